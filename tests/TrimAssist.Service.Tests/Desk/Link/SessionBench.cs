using Microsoft.Extensions.Time.Testing;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Desk.Profiles;
using TrimAssist.Protocols.Osc;
using TrimAssist.TestKit.Desks;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>
/// A session with a real loopback socket and a foreign desk on its other side, turned by the test on one thread and one clock of its own:
/// what was sent has arrived, and nothing moves but what the test moves.
/// </summary>
internal sealed class SessionBench : IDisposable
{
    public static readonly TimeSpan Frame = TimeSpan.FromMilliseconds(50);
    private readonly IDeskSocket _socket;
    private readonly QueueContext _context = new();
    private readonly ProposalBook _book = new(static _ => { });

    public SessionBench(params string[] parts)
        : this(desk => LinkProfiles.Udp(desk.EndPoint, parts))
    {
    }

    public SessionBench(Func<ForeignDesk, DeskProfile> profile)
    {
        Profile = profile(Desk);
        _socket = DeskSockets.Open(Profile, Time);
        Session = new DeskSession(Profile, Sink, _socket, _socket.Sources, Time);
        Writer = new DeskWriter(Session);
        Session.Start();
        Desk.Attend();
        Desk.Service ??= _socket.LocalEndPoint!.Serialize();
    }

    public FakeTimeProvider Time { get; } = new();

    public ForeignDesk Desk { get; } = new();

    public HeardSink Sink { get; } = new();

    public DeskProfile Profile { get; }

    public DeskSession Session { get; }

    public DeskWriter Writer { get; }

    public int ServicePort => _socket.LocalEndPoint!.Port;

    /// <summary>Both sides take in what waits, without time passing.</summary>
    public void Turn()
    {
        Loopback.Settle();
        _socket.Drain(Session, int.MaxValue);
        Session.Tick();
        _context.RunAll();
        Loopback.Settle();
        Desk.Attend();
    }

    /// <summary>Lets time pass in small steps, both sides attending.</summary>
    public void Pass(double seconds, Action? everyFrame = null)
    {
        var step = TimeSpan.FromMilliseconds(10);
        for (var passed = TimeSpan.Zero; passed < TimeSpan.FromSeconds(seconds); passed += step)
        {
            Time.Advance(step);
            if (passed.Ticks % Frame.Ticks == 0)
                everyFrame?.Invoke();
            Turn();
        }

        Turn();
    }

    /// <summary>Lets time pass while the desk sends meters.</summary>
    public void Play(double seconds) => Pass(seconds, SayPeaks);

    public void SayPeaks()
    {
        for (var input = 1; input <= Profile.Inputs; input++)
            SayPeak(input, -20 - (Time.GetTimestamp() / (double)Frame.Ticks % 3));
    }

    public void SayPeak(int input, double level) => Desk.Say(new OscMessage($"/t/{input}/top", OscArgument.Of((float)level)));

    public void Say(string address, params OscArgument[] arguments)
    {
        Desk.Say(new OscMessage(address, arguments));
        Turn();
    }

    /// <summary>Starts work as the desk's loop does: what it awaits goes on in <see cref="Turn"/>.</summary>
    public Task<T> Begin<T>(Func<Task<T>> work) => _context.Begin(work);

    /// <summary>A permission to change something, got as any other: proposed, confirmed by its digest, granted.</summary>
    public ConfirmedChange Permit(ProposalKind kind, SettingValue to, params int[] inputs)
    {
        var gate = new ConfirmationGate(_book);
        var now = new Moment(TimeSpan.Zero, DateTimeOffset.UnixEpoch);
        var view = new DeskView(LinkState.Live, Session.Settings, 0.4);
        var proposals = new ProposalDesk(Profile.Description, _book, Session.Settings, Guid.NewGuid);
        var proposal = proposals.Propose(new TrimPlan(inputs, [new(kind, to, Saying.Plain("because"))], null, new ProposalEvidence()), now, ProposalLife.Trim);
        Assert.NotNull(proposal);
        Assert.Equal(GateCode.Accepted, gate.Reserve(new Confirmation(proposal.Id, proposal.Digest, proposal.Needs, "test"), view, now).Code);
        return gate.Grant(proposal.Id, view)!;
    }

    public Task<WriteOutcome> Write(ConfirmedChange change) => Begin(() => Writer.ApplyAsync(change, CancellationToken.None));

    /// <summary>What came of work that must be done by now.</summary>
    public static T Done<T>(Task<T> work)
    {
        Assert.True(work.IsCompleted, "still waits");
        return work.GetAwaiter().GetResult();
    }

    public void Dispose()
    {
        _socket.Dispose();
        Desk.Dispose();
    }
}
