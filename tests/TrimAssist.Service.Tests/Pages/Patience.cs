using System.Runtime.CompilerServices;
using Bunit;

namespace TrimAssist.Service.Tests.Pages;

/// <summary>How long a component's test waits for what comes by itself: long enough for a busy machine.</summary>
internal static class Patience
{
    [ModuleInitializer]
    internal static void Take() => BunitContext.DefaultWaitTimeout = TimeSpan.FromMinutes(1);
}
