using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link;
using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Service.Doctor;

/// <summary>
/// Whether each desk's meters do arrive: subscribes as the service would and listens for a moment. Sends subscriptions and
/// questions, never a value.
/// </summary>
/// <param name="patience">How long to listen.</param>
/// <param name="time">The clock.</param>
internal sealed class DeskReachCheckup(TimeSpan patience, TimeProvider time) : ICheckup
{
    private static readonly TimeSpan LookEvery = TimeSpan.FromMilliseconds(50);

    /// <inheritdoc/>
    public async Task<IReadOnlyList<Diagnosis>> LookAsync(Premises premises, CancellationToken cancellationToken) =>
        [.. (await Task.WhenAll(premises.Desks.Select(desk => LookAsync(desk, cancellationToken)))).OfType<Diagnosis>()];

    private async Task<Diagnosis?> LookAsync(DeskProfile desk, CancellationToken cancellationToken)
    {
        DeskLoop loop;
        try
        {
            loop = new DeskLoop(desk, new Deaf(), time, () => { });
        }
        catch (DeskConnectException failed)
        {
            // Over UDP the port's own checkup has said so, and that of the MIDI library where it is missing.
            return desk.Connection.Transport == DeskTransportKind.Udp || MidiCheckup.LacksLibrary(desk) ? null : new($"{desk.Id}: link", Verdict.Wrong, failed.Message);
        }

        await using (loop)
        {
            loop.Start();
            using var timer = new PeriodicTimer(LookEvery, time);
            var began = time.GetTimestamp();
            LinkState state;
            do
            {
                await timer.WaitForNextTickAsync(cancellationToken);
                state = await loop.RunAsync(() => Task.FromResult(loop.Session.Link));
            }
            while (state != LinkState.Live && time.GetElapsedTime(began) < patience);
            return Judge(desk, state, await loop.RunAsync(() => Task.FromResult(loop.Session.Counters)));
        }
    }

    private Diagnosis Judge(DeskProfile desk, LinkState state, LinkCounters counters)
    {
        var subject = $"{desk.Id}: meters";
        if (state == LinkState.Live)
            return new(subject, Verdict.Good, "Meters arrive.");
        var host = desk.Connection.Desk?.Host;
        return counters switch
        {
            { Dropped: > 0 } => new(
                subject, Verdict.Wrong, $"{counters.Dropped} packets came from addresses that are not let in, none from {host}.",
                "add the sender's address to accept_from in the profile"),
            { Malformed: > 0 } => new(
                subject, Verdict.Wrong, $"{counters.Malformed} packets came that are not what the profile describes.", $"trimassist check-profile {desk.Id}.toml"),
            { Received: > 0 } => new(
                subject, Verdict.Wrong, $"The desk answers, but under none of the profile's meter addresses ({counters.Unmatched} messages).", "compare the profile's [[meters]] with what the desk sends"),
            _ => new(subject, Verdict.Wrong, $"Nothing came from {host} within {patience.TotalSeconds:0.#} s.", $"ping -c 3 {host}"),
        };
    }

    private sealed class Deaf : IDeskSink
    {
        public void OnReading(in MeterReading reading)
        {
        }

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
}
