using System.Reflection;
using TrimAssist.Core.Gate;
using TrimAssist.DemoDesk;
using TrimAssist.Desk.Profiles;
using TrimAssist.Journal;
using TrimAssist.Protocols.Osc;
using TrimAssist.Service.Hosting;

namespace TrimAssist.Service.Tests.Architecture;

/// <summary>What is shipped.</summary>
internal static class ShippedAssemblies
{
    public static readonly Assembly Core = typeof(ConfirmationGate).Assembly;

    public static readonly Assembly Protocols = typeof(OscPacketReader).Assembly;

    public static readonly IReadOnlyList<Assembly> All =
    [
        Core, Protocols, typeof(Audio.Wav.WavError).Assembly, typeof(DeskProfile).Assembly, typeof(SqliteJournal).Assembly, typeof(BuiltInDesk).Assembly,
        typeof(ServeOptions).Assembly,
    ];
}
