using System.Globalization;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link.Settings;
using TrimAssist.Desk.Link.Writing;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Desk.Link;

/// <summary>The one writer: sends a confirmed change once for each of its inputs and waits for the desk's own word. Runs on the desk's loop.</summary>
public sealed class DeskWriter(DeskSession session) : IDeskWriter
{
    /// <summary>Without the desk's word after this long the outcome is unknown.</summary>
    public const double UnknownAfterS = 3;

    /// <summary>Another value than the one sent counts as the desk's last word after this long: an answer to an older question may come first.</summary>
    private const double LastWordAfterS = 1.2;

    private const double LookEveryS = 0.1;

    /// <inheritdoc/>
    public async Task<WriteOutcome> ApplyAsync(ConfirmedChange change, CancellationToken cancellationToken)
    {
        var kind = ControlKinds.Of(change.Kind);
        if (cancellationToken.IsCancellationRequested)
            return NotSent(WriterSayings.FailedStopping);
        if (!string.Equals(change.Desk, session.Profile.Id, StringComparison.Ordinal))
            return NotSent(WriterSayings.FailedOtherDesk(change.Desk));
        if (session.Link != LinkState.Live)
            return NotSent(WriterSayings.FailedLink);
        if (session.Profile.Control(kind) is not { Writable: true } control)
            return NotSent(WriterSayings.FailedNoControl);
        if (session.Words.IsUnderWay(kind, change.Inputs))
            return NotSent(WriterSayings.FailedBusy);
        if (change.Inputs.Any(input => !IsStill(control, input, change.From)))
            return NotSent(WriterSayings.FailedMoved);
        if (Packets(control, change) is not { Count: > 0 } packets)
            return NotSent(WriterSayings.FailedForm);

        var word = session.Words.Begin(control, change.Inputs, session.Elapsed());
        try
        {
            var sent = 0;
            foreach (var packet in packets)
                sent += session.SendChange(packet) ? 1 : 0;
            return sent == 0 ? NotSent(WriterSayings.FailedNetwork) : await VerifyAsync(word, change, cancellationToken);
        }
        finally
        {
            session.Words.End(word);
        }
    }

    private bool IsStill(ControlProfile control, int input, SettingValue from) =>
        input >= 1 && input <= session.Profile.Inputs && session.Value(control.Kind, input) is { } now && now.Matches(from, control.ToleranceDb);

    private async Task<WriteOutcome> VerifyAsync(AwaitedWord word, ConfirmedChange change, CancellationToken cancellationToken)
    {
        var control = word.Control;
        while (true)
        {
            var waited = session.Elapsed() - word.SentAt;
            var taken = word.Heard.Where(input => session.Value(control.Kind, input) is { } now && now.Matches(change.To, control.ToleranceDb)).ToArray();
            if (taken.Length == change.Inputs.Count)
                return new(WriteResult.Applied, session.Value(control.Kind, taken[0]), WriterSayings.DoneRead);
            if (word.Heard.Except(taken).FirstOrDefault() is var other and > 0 && waited >= LastWordAfterS)
                return new(WriteResult.Failed, session.Value(control.Kind, other), WriterSayings.FailedOther(session.Value(control.Kind, other)!.Value.Said, other));
            if (waited >= UnknownAfterS)
                return new(WriteResult.Unknown, null, WriterSayings.UnknownSent);
            cancellationToken.ThrowIfCancellationRequested();
            await word.NextAsync(session.Elapsed() + LookEveryS);
        }
    }

    // Both halves of a pair may hang on one socket: what would be sent twice is sent once.
    private List<byte[]>? Packets(ControlProfile control, ConfirmedChange change)
    {
        List<byte[]> packets = [];
        foreach (var input in change.Inputs)
        {
            if (Wire(control, change.To) is not { } value || session.Change(control, input, value) is not { } packet)
                return null;
            if (!packets.Exists(packet.SequenceEqual))
                packets.Add(packet);
        }

        return packets;
    }

    private static WireValue? Wire(ControlProfile control, SettingValue value)
    {
        if (value.On is { } on)
            return on ? control.On : control.Off;
        if (value.Db is not { } db || control.Scale is not { } scale || scale.ToWire(db) is not { } exact)
            return null;

        // What travels must still mean the value that was confirmed: a whole number or a flag may be too coarse for it.
        var wire = control.ValueType is WireType.Whole or WireType.Flag ? Math.Round(exact) : exact;
        if (scale.ToDb(wire) is not { } meant || Math.Abs(meant - db) > control.ToleranceDb)
            return null;
        return control.ValueType switch
        {
            WireType.Text => new(WireType.Text, 0, wire.ToString("0.######", CultureInfo.InvariantCulture)),
            var type => new(type, wire),
        };
    }

    private static WriteOutcome NotSent(Saying why) => new(WriteResult.NotSent, null, why);
}
