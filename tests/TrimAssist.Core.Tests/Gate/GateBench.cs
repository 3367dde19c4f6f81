using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Tests.Gate;

/// <summary>A desk of four inputs whose settings a test moves, with a book, a proposal desk and a gate on it.</summary>
internal sealed class GateBench
{
    private readonly Dictionary<int, InputSettings> _settings;
    private TimeSpan _elapsed;

    public GateBench(IReadOnlyList<string>? sharedWith = null, IReadOnlyList<string>? covers = null)
    {
        Desk = Describe(sharedWith ?? [], covers);
        _settings = Enumerable.Range(1, Desk.Inputs).ToDictionary(input => input, input => new InputSettings
        {
            Input = input,
            Trim = new Decibels(20),
            PadOn = false,
            Muted = true,
            FaderDb = 0,
        });
        Book = new ProposalBook(Changes.Add);
        Gate = new ConfirmationGate(Book);
        Proposals = new ProposalDesk(Desk, Book, input => _settings[input], Guid.NewGuid);
    }

    public DeskDescription Desk { get; }

    public List<Proposal> Changes { get; } = [];

    public ProposalBook Book { get; }

    public ConfirmationGate Gate { get; }

    public ProposalDesk Proposals { get; }

    public LinkState Link { get; set; } = LinkState.Live;

    public Moment Now => new(_elapsed, DateTimeOffset.UnixEpoch + _elapsed);

    public DeskView View => new(Link, input => _settings[input], 0.4);

    public static DeskDescription Describe(IReadOnlyList<string> sharedWith, IReadOnlyList<string>? covers = null) => new()
    {
        Id = "bench",
        Name = "Bench",
        Inputs = 4,
        Meter = new MeterTraits(0.05, Tap: MeterTap.Converter, FollowsMute: false),
        Trim = new TrimControl(0, 60, 1, 0.4, Digital: false, sharedWith),
        Pad = new PadControl(20, sharedWith),
        Mute = new MuteControl(covers ?? ["main", "sends"]),
        FaderReadable = true,
    };

    public void Set(int input, Func<InputSettings, InputSettings> change) => _settings[input] = change(_settings[input]);

    public InputSettings Settings(int input) => _settings[input];

    public void Wait(TimeSpan time) => _elapsed += time;

    public Proposal ProposeTrim(double to, int input = 1) => Proposals.Propose(
        new TrimPlan([input], [new(ProposalKind.Trim, SettingValue.Gain(to), Saying.Plain("because"))], null, new ProposalEvidence()), Now, ProposalLife.Trim)!;

    public static Confirmation Naming(Proposal proposal, params string[] acknowledge) => new(proposal.Id, proposal.Digest, acknowledge, "engineer");

    /// <summary>The whole way through the gate, as its keeper goes it.</summary>
    public (GateCode Code, ConfirmedChange? Change) Confirm(Confirmation confirmation)
    {
        var answer = Gate.Reserve(confirmation, View, Now);
        return answer.Code == GateCode.Accepted ? (answer.Code, Gate.Grant(confirmation.Id, View)) : (answer.Code, null);
    }
}
