using System.Collections.Concurrent;
using System.Net;
using System.Runtime.CompilerServices;
using Microsoft.Extensions.Time.Testing;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Proposals;
using TrimAssist.Desk.Link;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Protocols.Osc;
using TrimAssist.Service.Tests.Desks.Profiles;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>A session on a bench: a hand moves the clock, packets come from the test, what is sent is kept. Everything runs on the test's thread.</summary>
internal sealed class Bench : IDeskSink, IDeskTransport
{
    public static readonly IPEndPoint Desk = new(IPAddress.Parse("192.0.2.10"), 9000);
    public static readonly IPEndPoint Backup = new(IPAddress.Parse("192.0.2.11"), 9000);
    public static readonly IPEndPoint Stranger = new(IPAddress.Parse("192.0.2.66"), 9000);
    private readonly FakeTimeProvider _time = new();
    private readonly Pump _pump = new();

    public Bench(string profile)
    {
        SynchronizationContext.SetSynchronizationContext(_pump);
        Session = new DeskSession(ProfileTexts.Read(profile), this, this, new SourceFilter([Desk.Address, Backup.Address]), _time);
        Writer = new DeskWriter(Session);
    }

    public DeskSession Session { get; }

    public DeskWriter Writer { get; }

    public List<MeterReading> Readings { get; } = new(10_000);

    public List<(InputSettings Before, InputSettings Now)> Settings { get; } = [];

    public List<LinkState> Links { get; } = [];

    public List<DeskNote> Notes { get; } = [];

    public List<int> Overloads { get; } = [];

    public List<OscMessage> Sent { get; } = [];

    public IPAddress? RedirectedTo { get; private set; }

    public bool KeepReadings { get; set; } = true;

    public bool NetworkIsDown { get; set; }

    /// <summary>What the desk on the bench does with each packet it is sent.</summary>
    public Action<OscMessage>? WhenSent { get; set; }

    /// <summary>Starts, answers nothing, and brings the link to life with a frame on input 1.</summary>
    public Bench Live(string address = "/lv/1")
    {
        Session.Start();
        Tell(address, OscArgument.Of(-20f));
        Session.Tick();
        return this;
    }

    public void Tell(string address, params ReadOnlySpan<OscArgument> arguments) => TellFrom(Desk, address, arguments);

    public void TellFrom(IPEndPoint from, string address, params ReadOnlySpan<OscArgument> arguments) =>
        Session.Receive(new OscMessage(address, arguments).Encode(), from.Serialize());

    public void TellBytes(byte[] bytes, IPEndPoint? from = null) => Session.Receive(bytes, (from ?? Desk).Serialize());

    /// <summary>Moves the clock in steps of 10 ms, ticking, with a meter frame every 50 ms where wanted.</summary>
    public void Pass(double seconds, bool meters = true)
    {
        for (var step = 1; step <= Math.Round(seconds * 100); step++)
        {
            _time.Advance(TimeSpan.FromMilliseconds(10));
            if (meters && step % 5 == 0)
                Tell("/lv/1", OscArgument.Of(-20f - (step % 7)));
            Session.Tick();
            _pump.Run();
        }
    }

    public void Advance(double milliseconds) => _time.Advance(TimeSpan.FromMilliseconds(milliseconds));

    public T Done<T>(Task<T> task)
    {
        _pump.Run();
        Xunit.Assert.True(task.IsCompleted, "should have ended by now");
        return task.GetAwaiter().GetResult();
    }

    public void RunPosted() => _pump.Run();

    public int CountSent(string address, bool withValue) =>
        Sent.Count(m => string.Equals(m.Address, address, StringComparison.Ordinal) && (m.Arguments.Count > 0) == withValue);

    [UnsafeAccessor(UnsafeAccessorKind.Constructor)]
    public static extern ConfirmedChange Permit(Guid proposal, string desk, IReadOnlyList<int> inputs, ProposalKind kind, SettingValue from, SettingValue to);

    public static ConfirmedChange Trim(double from, double to, params int[] inputs) =>
        Permit(Guid.NewGuid(), "demo", inputs, ProposalKind.Trim, SettingValue.Gain(from), SettingValue.Gain(to));

    public bool TrySend(ReadOnlySpan<byte> packet, out string? fault)
    {
        fault = NetworkIsDown ? "the network is down" : null;
        if (NetworkIsDown)
            return false;
        Xunit.Assert.True(OscMessage.TryParse(packet, out var message, out _));
        Sent.Add(message!);
        WhenSent?.Invoke(message!);
        return true;
    }

    public void Redirect(IPAddress engine) => RedirectedTo = engine;

    public void OnReading(in MeterReading reading)
    {
        if (KeepReadings)
            Readings.Add(reading);
    }

    public void OnSettings(InputSettings before, InputSettings now) => Settings.Add((before, now));

    public void OnLink(LinkState state, string reason) => Links.Add(state);

    public void OnDeskNote(DeskNote note) => Notes.Add(note);

    public void OnOverload(int input, double timeS) => Overloads.Add(input);

    private sealed class Pump : SynchronizationContext
    {
        private readonly ConcurrentQueue<Action> _posted = new();

        public override void Post(SendOrPostCallback d, object? state) => _posted.Enqueue(() => d(state));

        public void Run()
        {
            while (_posted.TryDequeue(out var work))
                work();
        }
    }
}
