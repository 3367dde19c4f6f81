using System.Text;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;
using TrimAssist.DemoDesk.Band;
using TrimAssist.Service.Acts;
using TrimAssist.Service.Events;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Report;
using TrimAssist.TestKit.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Acts;

/// <summary>
/// A festival day of three stages in turn and nine acts, one player in two bands, from input lists to gain sheets: everything
/// but the wire. The players are the demo's; what they hold back is theirs and nobody tells the program.
/// </summary>
public sealed class FestivalDayTests
{
    private const double FrameS = 0.05;
    private const double FullScaleDbu = 18;
    private const double NoiseDbfs = -85;
    private const double TargetDbfs = -12;

    // A day on which everybody holds back far more than common practice expects.
    private static readonly (string Source, SourceKind Kind, double LoudestDbu)[] Band =
    [
        ("voice", SourceKind.Voice with { HoldBackDb = 11 }, -20),
        ("harmony voice", SourceKind.Voice with { HoldBackDb = 11 }, -24),
        ("guitar", SourceKind.Guitar with { HoldBackDb = 9 }, -8),
        ("keys", SourceKind.Keys with { HoldBackDb = 9 }, 2),
        ("kick", SourceKind.Kick with { HoldBackDb = 8 }, -2),
    ];

    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2026, 7, 25, 12, 0, 0, TimeSpan.Zero));
    private readonly MemoryJournal _journal = new();

    [Fact]
    public void The_ninth_acts_proposals_land_nearer_to_the_target_than_the_first_ones_and_than_without_learning()
    {
        var learning = PlayDay(learn: true);
        var not = PlayDay(learn: false);

        Assert.Equal(9, learning.Count);
        Assert.Equal(not[0], learning[0], 9);
        TestContext.Current.TestOutputHelper?.WriteLine(Figures(learning, not));
        Assert.True(learning[8] < 0.75 * not[8], Figures(learning, not));
        Assert.True(learning[8] < 0.75 * learning[0], Figures(learning, not));
        Assert.True(learning.Skip(3).Average() < not.Skip(3).Average(), Figures(learning, not));

        var sheet = GainSheetReader.Read(_journal, "Band 9")!;
        Assert.Equal((Band.Length, true, "stage-3"), (sheet.Inputs.Count, sheet.Watched, sheet.Desk));
        Assert.All(sheet.Inputs, input => Assert.NotNull(input.ShowPeakDbfs));
        // Player 1 sang with the first band and the fifth, on two stages.
        Assert.Contains("from 1 show of this player", GainSheetReader.Read(_journal, "Band 5")!.Inputs[0].AllowanceBasis, StringComparison.Ordinal);
    }

    private static string Figures(List<double> learning, List<double> not) =>
        $"learning {string.Join(' ', learning.Select(db => $"{db:0.0}"))}, not {string.Join(' ', not.Select(db => $"{db:0.0}"))}";

    /// <summary>How far the shows' peaks landed from the target, act by act: mean distance in dB.</summary>
    private List<double> PlayDay(bool learn)
    {
        var journal = learn ? _journal : new MemoryJournal();
        var shows = ShowMemory.Read(journal, _time);
        var stages = Enumerable.Range(1, 3).Select(number => new Stage($"stage-{number}", learn ? shows : ShowMemory.Read(new MemoryJournal(), _time), shows, journal, _time)).ToList();
        return [.. Enumerable.Range(1, 9).Select(act => stages[(act - 1) % 3].Play(act))];
    }

    private static string ListOf(int act) => $"# act: Band {act}\ninput,name,source,role,player\n" + string.Concat(
        Band.Select((one, index) => $"{index + 1},{one.Source},{one.Source},performer,{PlayerOf(act, index)}\n"));

    private static string PlayerOf(int act, int index) => act == 5 && index == 0 ? "Player 1-0" : $"Player {act}-{index}";

    private sealed class Stage
    {
        private readonly DeskAssistant _assistant;
        private readonly InputSettings[] _settings = [.. Enumerable.Range(1, Band.Length).Select(input => new InputSettings { Input = input, Trim = new Decibels(20), Muted = false, FaderDb = -70 })];
        private readonly FakeTimeProvider _time;
        private long _frame;

        public Stage(string id, ShowMemory known, ShowMemory shows, MemoryJournal journal, FakeTimeProvider time)
        {
            _time = time;
            var desk = new DeskDescription
            {
                Id = id,
                Name = id,
                Inputs = Band.Length,
                Meter = new MeterTraits(FrameS, Tap: MeterTap.Converter, FollowsMute: false),
                Trim = new TrimControl(0, 60, 1, 0.4, false, []),
            };
            var events = new DeskEvents(new EventHub(time), new GateJournal(journal, time, new Vitals(time), NullLogger<GateJournal>.Instance), shows);
            _assistant = new DeskAssistant(
                desk, AssistOptions.Default with { AllowanceOf = known.AllowanceOf }, input => _settings[input - 1], static _ => TimeSpan.Zero, Guid.NewGuid, events);
            _assistant.OnLink(LinkState.Live, Saying.Plain(""), Now);
            for (var input = 1; input <= Band.Length; input++)
                Turn(input, 20);
        }

        private Moment Now => new(TimeSpan.FromSeconds(_frame * FrameS), _time.GetUtcNow());

        /// <summary>List, check, trims as proposed, show.</summary>
        public double Play(int number)
        {
            _time.Advance(TimeSpan.FromMinutes(45));
            var act = InputListReader.Read(Encoding.UTF8.GetBytes(ListOf(number)), "", Band.Length).Act!;
            Assert.True(_assistant.Acts.Add(act));
            _assistant.BeginAct(act, Now);
            var players = Band.Select((one, index) => new Player(one.Kind, one.LoudestDbu, 0.5, Chance.For(7, PlayerOf(number, index)))).ToList();

            var check = _assistant.StartCheck([.. Enumerable.Range(1, Band.Length)], Now);
            PlayFor(60, players, inShow: false);
            _assistant.FinishCheck(check.Id, Now);
            foreach (var proposal in _assistant.Book.Open.Where(one => one.Kind == ProposalKind.Trim).ToList())
                Turn(proposal.Input, proposal.To.Db!.Value);

            _assistant.Watch(true, Now);
            var peaks = PlayFor(180, players, inShow: true);
            _assistant.Watch(false, Now);
            return peaks.Average(peak => Math.Abs(peak - TargetDbfs));
        }

        private double[] PlayFor(double seconds, List<Player> players, bool inShow)
        {
            var peaks = Enumerable.Repeat(double.NegativeInfinity, players.Count).ToArray();
            for (var left = (int)(seconds / FrameS); left > 0; left--)
            {
                _frame++;
                for (var index = 0; index < players.Count; index++)
                {
                    var (peak, rms) = players[index].Next(FrameS, playing: true, inShow);
                    var gain = _settings[index].Trim!.Value.Value - FullScaleDbu;
                    var level = Math.Min(0, Math.Max(peak + gain, NoiseDbfs + 9));
                    peaks[index] = Math.Max(peaks[index], level);
                    _assistant.OnReading(new MeterReading(index + 1, _frame * FrameS, (float)level, (float)Math.Max(Math.Min(rms + gain, level - 1), NoiseDbfs)), Now);
                }

                _assistant.Tick(Now);
            }

            return peaks;
        }

        private void Turn(int input, double trim)
        {
            var before = _settings[input - 1];
            _settings[input - 1] = before with { Trim = new Decibels(trim) };
            _assistant.OnSettings(trim == before.Trim?.Value ? before with { Trim = null } : before, _settings[input - 1], Now);
        }
    }
}
