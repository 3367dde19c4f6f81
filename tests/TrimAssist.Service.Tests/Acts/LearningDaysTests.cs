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
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Loops;
using TrimAssist.TestKit.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Acts;

/// <summary>
/// Days of nine acts by players who hold back as much as they do in the demo, where common practice is nearly right, and by players who hold back 5 dB
/// more, as on the acceptance tests' festival: what learning is worth on the whole. Everything but the wire, so that several days fit into a test.
/// </summary>
public sealed class LearningDaysTests
{
    private const int Days = 3;
    private const double FrameS = 0.05;
    private const double FullScaleDbu = 18;
    private const double NoiseDbfs = -85;
    private const double TargetDbfs = -12;

    private static readonly (string Source, SourceKind Kind, double LoudestDbu)[] Band =
    [
        ("kick", SourceKind.Kick, -2),
        ("snare", SourceKind.Snare, -6),
        ("bass", SourceKind.Bass, -6),
        ("guitar", SourceKind.Guitar, -10),
        ("guitar two", SourceKind.Guitar, -8),
        ("keys", SourceKind.Keys, 2),
        ("voice", SourceKind.Voice, -22),
        ("harmony voice", SourceKind.Voice, -26),
    ];

    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2026, 7, 25, 12, 0, 0, TimeSpan.Zero));

    [Theory]
    [InlineData(0, 0.9)]
    [InlineData(5, 0.6)]
    public void On_the_whole_shows_land_nearer_to_the_target_with_learning_than_without(double holdBackMoreDb, double most)
    {
        List<List<double>> learning = [], not = [];
        for (var day = 1UL; day <= Days; day++)
        {
            learning.Add(PlayDay(day, holdBackMoreDb, learn: true));
            not.Add(PlayDay(day, holdBackMoreDb, learn: false));
            Assert.Equal(not[^1][0], learning[^1][0], 9);
        }

        // Nobody is known in the first acts.
        var (with, without) = (learning.SelectMany(day => day.Skip(3)).Average(), not.SelectMany(day => day.Skip(3)).Average());
        var figures = $"mean distance of acts 4 to 9 {with:0.00} dB with learning, {without:0.00} dB without; first act {learning.Average(day => day[0]):0.00} dB, "
            + $"ninth {learning.Average(day => day[8]):0.00} dB with learning, {not.Average(day => day[8]):0.00} dB without";
        TestContext.Current.TestOutputHelper?.WriteLine(figures);
        Assert.True(with < most * without, figures);
        Assert.True(learning.Average(day => day[8]) < not.Average(day => day[8]), figures);
    }

    /// <summary>How far the shows' peaks landed from the target, act by act: mean distance in dB.</summary>
    private List<double> PlayDay(ulong day, double holdBackMoreDb, bool learn)
    {
        var journal = new MemoryJournal();
        var shows = ShowMemory.Read(new LineReader(journal), _time);
        var known = learn ? shows : ShowMemory.Read(new LineReader(new MemoryJournal()), _time);
        var stages = Enumerable.Range(1, 3).Select(number => new Stage($"stage-{number}", (day, holdBackMoreDb), known, shows, journal, _time)).ToList();
        return [.. Enumerable.Range(1, 9).Select(act => stages[(act - 1) % 3].Play(act))];
    }

    private static string ListOf(int act) => $"# act: Band {act}\ninput,name,source,role,player\n" + string.Concat(
        Band.Select((one, index) => $"{index + 1},{one.Source},{one.Source},performer,{PlayerOf(act, index)}\n"));

    private static string PlayerOf(int act, int index) => $"Player {act}-{index}";

    private sealed class Stage
    {
        private readonly DeskAssistant _assistant;
        private readonly InputSettings[] _settings = [.. Enumerable.Range(1, Band.Length).Select(input => new InputSettings { Input = input, Trim = new Decibels(20), Muted = false, FaderDb = -70 })];
        private readonly FakeTimeProvider _time;
        private readonly (ulong Seed, double HoldBackMoreDb) _day;
        private long _frame;

        public Stage(string id, (ulong Seed, double HoldBackMoreDb) day, ShowMemory known, ShowMemory shows, MemoryJournal journal, FakeTimeProvider time)
        {
            (_day, _time) = (day, time);
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
            var players = Band.Select((one, index) => new Player(
                one.Kind with { HoldBackDb = one.Kind.HoldBackDb + _day.HoldBackMoreDb }, one.LoudestDbu, 0.5, Chance.For(_day.Seed, PlayerOf(number, index)))).ToList();

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
