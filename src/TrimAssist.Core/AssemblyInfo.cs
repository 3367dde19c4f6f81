using System.Runtime.CompilerServices;

// Tests see Core's internals, except that nobody but the gate makes a permission: an architecture test holds that.
[assembly: InternalsVisibleTo("TrimAssist.Core.Tests")]
