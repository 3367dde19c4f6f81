using TrimAssist.Core.Acts;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Tests.Listening.Levels;
using TrimAssist.Core.Units;
using Xunit;

namespace TrimAssist.Core.Tests.Assist;

/// <summary>What is cut out live is what settles, as when a log is read offline: the loudest frame of a check counts unless it was a bang.</summary>
public sealed class CutOutTests
{
    private static readonly DeskDescription Desk = new() { Id = "desk", Name = "Desk", Inputs = 1, Meter = Played.Traits };

    private readonly float[] _notes = Played.Notes(1);
    private readonly Ears _ears = new(Desk, new ActStage(Desk, AssistOptions.Default.Target, AssistOptions.Default.AllowanceOf)) { InShow = true };
    private readonly FindingRing _unheard = new();

    public CutOutTests() =>
        _ears.Refer(new InputSettings { Input = 1 }, new InputSettings { Input = 1, Trim = new Decibels(0) });

    private int Loudest => Array.IndexOf(_notes, _notes.Max());

    private double LoudestS => TimeOf(Loudest);

    [Fact]
    public void Playing_first_taken_for_a_pop_stays_in()
    {
        Hear((Loudest, Pop(FindingStage.Raised)), (Loudest + 10, Pop(FindingStage.Withdrawn)));
        AssertHeard(true);
    }

    [Fact]
    public void A_pop_that_later_frames_name_a_step_stays_in()
    {
        Hear((Loudest, Pop(FindingStage.Raised)), (Loudest + 10, Pop(FindingStage.Refined) with { Kind = FindingKind.StepUp }));
        AssertHeard(true);
    }

    [Theory]
    [InlineData(FindingKind.Pop)]
    [InlineData(FindingKind.Crackle)]
    public void A_pop_that_later_frames_bear_out_is_cut_out(FindingKind settled)
    {
        Hear((Loudest, Pop(FindingStage.Raised)), (Loudest + 10, Pop(FindingStage.Refined) with { Kind = settled }));
        AssertHeard(false);
    }

    [Fact]
    public void Another_finding_that_turns_out_a_pop_is_cut_out()
    {
        Hear((Loudest, Pop(FindingStage.Raised) with { Kind = FindingKind.StepUp }), (Loudest + 10, Pop(FindingStage.Refined)));
        AssertHeard(false);
    }

    [Fact]
    public void A_pop_raised_only_after_half_a_second_is_settled_and_cut_out()
    {
        Hear((Loudest + 10, Pop(FindingStage.Raised)));
        AssertHeard(false);
    }

    [Fact]
    public void A_crackle_is_cut_out_when_it_is_raised()
    {
        Hear((Loudest, Pop(FindingStage.Raised) with { Kind = FindingKind.Crackle }), (Loudest + 60, Pop(FindingStage.Ended) with { Kind = FindingKind.Crackle }));
        AssertHeard(false);
    }

    [Fact]
    public void A_first_word_that_nobody_takes_back_stands()
    {
        Hear((Loudest, Pop(FindingStage.Raised)));
        AssertHeard(false);
    }

    [Fact]
    public void A_first_word_that_waits_when_the_show_ends_is_no_part_of_the_show()
    {
        _notes.AsSpan((Loudest + 2)..).Fill(float.NaN);
        Hear((Loudest, Pop(FindingStage.Raised)));

        Assert.True(_ears.Show(1).PeakDb < _notes[Loudest]);
    }

    [Theory]
    [InlineData(-0.25, true)]
    [InlineData(-0.15, false)]
    [InlineData(0.25, false)]
    [InlineData(0.45, true)]
    public void The_stretch_is_the_one_that_is_cut_offline(double loudestAfterBangS, bool heard)
    {
        var bang = Pop(FindingStage.Raised) with { TimeS = LoudestS - loudestAfterBangS };
        Hear((Loudest + 12, bang));
        AssertHeard(heard);
    }

    [Fact]
    public void Hearing_and_cutting_out_allocate_nothing()
    {
        var (at, found) = (0, new Finding(0, 1, FindingKind.Pop, FindingStage.Raised, 0, 30, -6));
        void Play(int frames)
        {
            for (var end = at + frames; at < end; at++)
            {
                _ears.Hear(new MeterReading(1, TimeOf(at), -40 + (at % 7), -50), _unheard);
                if (at % 40 == 0)
                    _ears.CutOut(found = found with { Id = found.Id + 1, TimeS = TimeOf(at), Stage = FindingStage.Raised });
                if (at % 40 == 10 && found.Id % 3 != 0)
                    _ears.CutOut(found with { Stage = found.Id % 3 == 1 ? FindingStage.Refined : FindingStage.Withdrawn });
                while (_unheard.TryTake(out _))
                {
                }
            }
        }

        long Allocated()
        {
            var before = GC.GetAllocatedBytesForCurrentThread();
            Play(1000);
            return GC.GetAllocatedBytesForCurrentThread() - before;
        }

        // The first rounds may hold what the runtime itself takes while it compiles.
        Assert.Contains(0, Enumerable.Range(0, 5).Select(_ => Allocated()));
    }

    private static double TimeOf(int frame) => (frame + 1) * Played.FrameS;

    private Finding Pop(FindingStage stage) => new(1, 1, FindingKind.Pop, stage, LoudestS, 30, -6);

    /// <summary>Plays the notes; each word comes right after its frame.</summary>
    private void Hear(params (int Frame, Finding Word)[] words)
    {
        for (var frame = 0; frame < _notes.Length; frame++)
        {
            _ears.Hear(new MeterReading(1, TimeOf(frame), _notes[frame], _notes[frame] - 9), _unheard);
            while (_unheard.TryTake(out _))
            {
            }

            foreach (var (_, word) in words.Where(one => one.Frame == frame))
                _ears.CutOut(word);
        }
    }

    private void AssertHeard(bool loudest)
    {
        var expected = _notes[Loudest];
        Assert.Equal(loudest, Math.Abs(_ears.Report(1).Peak!.Value.Value - expected) < 0.02);
        Assert.Equal(loudest, Math.Abs(_ears.Show(1).PeakDb!.Value - expected) < 0.02);
    }
}
