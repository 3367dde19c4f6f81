using TrimAssist.Core.Journal;

namespace TrimAssist.Service.Tests.Journal;

/// <summary>Invented facts for the journal's tests.</summary>
internal static class Facts
{
    public static readonly DateTimeOffset Evening = new DateTimeOffset(2031, 5, 17, 20, 15, 0, TimeSpan.Zero).AddTicks(1234567);

    public static NewEntry Numbered(int number, string kind = "proposal", string? desk = "demo") =>
        new(Id(number), Evening.AddMilliseconds(number), desk, kind, 1, $$"""{"number":{{number}},"by":"Zoë \u2713"}""");

    public static Guid Id(int number) => new(number, 0x71, 0x40, 0x80, 1, 2, 3, 4, 5, 6, 7);
}
