using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>Keeps what a session found out.</summary>
internal sealed class HeardSink : IDeskSink
{
    public List<MeterReading> Readings { get; } = [];

    public List<InputSettings> Settings { get; } = [];

    public List<LinkState> Links { get; } = [];

    public List<DeskNote> Notes { get; } = [];

    public List<int> Overloads { get; } = [];

    public void OnReading(in MeterReading reading) => Readings.Add(reading);

    public void OnSettings(InputSettings before, InputSettings now) => Settings.Add(now);

    public void OnLink(LinkState state, Saying reason) => Links.Add(state);

    public void OnDeskNote(DeskNote note) => Notes.Add(note);

    public void OnOverload(int input, double timeS) => Overloads.Add(input);

    public int Count(DeskNoteKind kind) => Notes.Count(note => note.Kind == kind);
}
