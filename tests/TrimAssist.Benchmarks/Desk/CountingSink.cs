using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link;

namespace TrimAssist.Benchmarks.Desk;

/// <summary>Counts readings and forgets them.</summary>
internal sealed class CountingSink : IDeskSink
{
    public long Readings { get; private set; }

    public void OnReading(in MeterReading reading) => Readings++;

    public void OnSettings(InputSettings before, InputSettings now)
    {
    }

    public void OnLink(LinkState state, Saying reason)
    {
    }

    public void OnDeskNote(DeskNote note)
    {
    }
}
