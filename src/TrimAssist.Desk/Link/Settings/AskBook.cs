using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Settings;

/// <summary>
/// Plans the questions to the desk: everything at the start and after a restart, again where no answer came, and round and round slowly.
/// However often there is reason to ask, and whatever the desk answers, no more questions leave in a second than its wire can bear.
/// </summary>
internal sealed class AskBook
{
    // A desk's receive buffer must not overflow from us: so many questions at once, then one by one.
    private const int Burst = 24;
    private const double PerS = 400;

    // A five-pin MIDI wire carries 3,125 bytes in a second (MIDI 1.0: 31,250 baud, ten bits a byte), and a question takes some ten of them: a third of
    // the wire is left to questions, the rest to changes and whatever else hangs on it.
    private const int SlowBurst = 8;
    private const double SlowPerS = 100;
    private const double RoundS = 5;
    private const double FastestPerS = 50;

    // While no meters come, a question a second shows whether the desk still answers.
    private const double KnockEveryS = 1;
    private static readonly double[] RetryS = [0.3, 1, 3];
    private readonly (ControlKind Kind, int Input)[] _all;
    private readonly Dictionary<(ControlKind Kind, int Input), int> _places = [];
    private readonly Question[] _questions;
    private readonly Dictionary<ControlKind, AnswerHabit> _habits;
    private readonly Queue<int> _line = new();
    private readonly int _burst;
    private readonly double _perS;
    private double _allowance;
    private double _refilledAt;
    private int _next;
    private double _nextAt;

    public AskBook(DeskProfile profile)
    {
        (_burst, _perS) = profile.Connection is { Transport: DeskTransportKind.Midi, Desk: null } ? (SlowBurst, SlowPerS) : (Burst, PerS);
        _allowance = _burst;
        // The source comes first: what is addressed by socket cannot be asked before.
        _all = [.. profile.Controls
            .Where(c => c.CanBeAsked)
            .OrderByDescending(c => c.Kind == ControlKind.Source)
            .SelectMany(c => Enumerable.Range(1, profile.Inputs).Select(i => (c.Kind, i)))];
        _questions = new Question[_all.Length];
        for (var place = 0; place < _all.Length; place++)
            _places.Add(_all[place], place);
        _habits = _all.CountBy(one => one.Kind).ToDictionary(one => one.Key, one => new AnswerHabit(one.Value));
    }

    /// <summary>Whether the desk has shown that it answers when it is asked for this kind of control.</summary>
    public bool AnswersWhenAsked(ControlKind kind) => _habits.TryGetValue(kind, out var habit) && habit.IsProved;

    /// <summary>Plans to ask everything now.</summary>
    public void AskAll(double now)
    {
        _line.Clear();
        Array.Clear(_questions);
        foreach (var habit in _habits.Values)
            habit.Forget();
        for (var place = 0; place < _all.Length; place++)
            Plan(place, now);
        (_next, _nextAt) = (0, now + RoundS);
    }

    /// <summary>Plans to ask one input's controls again: it hangs on another socket now.</summary>
    public void AskInput(int input, double now)
    {
        for (var place = 0; place < _all.Length; place++)
        {
            if (_all[place].Input == input && _all[place].Kind != ControlKind.Source)
                Plan(place, now);
        }
    }

    /// <summary>The desk told a value: a question that has left is answered.</summary>
    public void Heard(ControlKind kind, int input, double now)
    {
        if (!_places.TryGetValue((kind, input), out var place))
            return;
        ref var question = ref _questions[place];
        if (question.Asked > 0)
            question.IsOpen = false;
        if (question.RoundAt is { } asked)
            _habits[kind].Heard(now - asked);
        question.RoundAt = null;
    }

    /// <summary>Asks what is due.</summary>
    /// <param name="now">The session's time.</param>
    /// <param name="live">Whether meters arrive; the slow round is slower without.</param>
    /// <param name="ask">Sends one question.</param>
    public void Tick(double now, bool live, Action<ControlKind, int> ask)
    {
        (_allowance, _refilledAt) = (Math.Min(_burst, _allowance + ((now - _refilledAt) * _perS)), now);
        for (var i = _line.Count; i > 0 && _allowance >= 1; i--)
        {
            var place = _line.Dequeue();
            ref var question = ref _questions[place];
            if (question.IsOpen && question.DueAt <= now)
                Ask(place, now, ask);
            question.IsInLine = question.IsOpen;
            if (question.IsOpen)
                _line.Enqueue(place);
        }

        if (_line.Count == 0 && _all.Length > 0 && now >= _nextAt && _allowance >= 1)
            AskNext(now, live ? Math.Max(RoundS / _all.Length, 1 / FastestPerS) : KnockEveryS, ask);
    }

    private void Plan(int place, double now)
    {
        ref var question = ref _questions[place];
        (question.IsOpen, question.Asked, question.DueAt) = (true, 0, now);
        if (!question.IsInLine)
            _line.Enqueue(place);
        question.IsInLine = true;
    }

    private void Ask(int place, double now, Action<ControlKind, int> ask)
    {
        ref var question = ref _questions[place];
        question.IsOpen = question.Asked < RetryS.Length;
        if (question.IsOpen)
            question.DueAt = now + RetryS[question.Asked++];
        _allowance--;
        ask(_all[place].Kind, _all[place].Input);
    }

    private void AskNext(double now, double pauseS, Action<ControlKind, int> ask)
    {
        var (kind, input) = _all[_next];
        _allowance--;
        ask(kind, input);
        _habits[kind].Asked();
        _questions[_next].RoundAt = now;
        _next = (_next + 1) % _all.Length;
        _nextAt = Math.Max(_nextAt, now - RoundS) + pauseS;
    }

    private struct Question
    {
        /// <summary>Whether it still has to be asked, or asked again.</summary>
        public bool IsOpen { get; set; }

        /// <summary>Whether it stands in the line, once at the most.</summary>
        public bool IsInLine { get; set; }

        /// <summary>How often it has left.</summary>
        public int Asked { get; set; }

        /// <summary>When the slow round asked it and no word has come since; <see langword="null"/> where there is nothing to wait for.</summary>
        public double? RoundAt { get; set; }

        /// <summary>When it leaves next.</summary>
        public double DueAt { get; set; }
    }
}
