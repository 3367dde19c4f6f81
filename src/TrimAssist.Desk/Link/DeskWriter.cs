using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Desk.Link.Settings;
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

    /// <inheritdoc/>
    public async Task<WriteOutcome> ApplyAsync(ConfirmedChange change, CancellationToken cancellationToken)
    {
        var kind = DeskSession.KindOf(change.Kind);
        if (session.Link != LinkState.Live)
            return NotSent("The link to the desk was lost before the change was sent.");
        if (session.Profile.Control(kind) is not { Writable: true, Write: not null } control)
            return NotSent("The profile does not say how this control is set.");
        if (change.Inputs.Any(input => session.Value(kind, input) is not { } now || !now.Matches(change.From, control.ToleranceDb)))
            return NotSent("The desk's value moved before the change was sent.");
        var packets = change.Inputs.Select(input => Packet(control, change, input)).ToArray();
        if (packets.Any(packet => packet is null))
            return NotSent("The value cannot be expressed in the desk's form.");

        var sentAt = session.Elapsed();
        try
        {
            var sent = 0;
            foreach (var (input, packet) in change.Inputs.Zip(packets))
                sent += session.SendWrite(kind, input, packet!) ? 1 : 0;
            return sent == 0 ? NotSent("The network refused the change.") : await VerifyAsync(control, change, sentAt, cancellationToken);
        }
        finally
        {
            foreach (var input in change.Inputs)
                session.EndWrite(kind, input);
        }
    }

    private async Task<WriteOutcome> VerifyAsync(ControlProfile control, ConfirmedChange change, double sentAt, CancellationToken cancellationToken)
    {
        while (true)
        {
            cancellationToken.ThrowIfCancellationRequested();
            var waited = session.Elapsed() - sentAt;
            var heard = change.Inputs.Where(input => session.HeardAt(control.Kind, input) >= sentAt).ToArray();
            var taken = heard.Where(input => session.Value(control.Kind, input) is { } now && now.Matches(change.To, control.ToleranceDb)).ToArray();
            if (taken.Length == change.Inputs.Count)
                return new(WriteResult.Applied, change.To, "Read back from the desk.");
            if (heard.Except(taken).FirstOrDefault() is var other and > 0 && waited >= LastWordAfterS)
                return new(WriteResult.Failed, session.Value(control.Kind, other), $"The desk answered {session.Value(control.Kind, other)} on input {other}.");
            if (waited >= UnknownAfterS)
                return new(WriteResult.Unknown, null, "Sent, and the desk never said what it did.");
            await session.NextWordAsync(control, change.Inputs, sentAt);
        }
    }

    private byte[]? Packet(ControlProfile control, ConfirmedChange change, int input) => Wire(control, change.To) is { } value
        ? PacketMaker.Fill(control.Write!, input, session.SocketOf(input), value)?.Encode()
        : null;

    private static WireValue? Wire(ControlProfile control, SettingValue value)
    {
        if (value.On is { } on)
            return on ? control.On : control.Off;
        if (value.Db is not { } db || control.Scale?.ToWire(db) is not { } wire)
            return null;
        return control.ValueType switch
        {
            WireType.Whole => new(WireType.Whole, Math.Round(wire)),
            WireType.Text => new(WireType.Text, 0, wire.ToString("0.###", System.Globalization.CultureInfo.InvariantCulture)),
            var type => new(type, wire),
        };
    }

    private static WriteOutcome NotSent(string why) => new(WriteResult.NotSent, null, why);
}
