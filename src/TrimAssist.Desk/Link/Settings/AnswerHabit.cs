namespace TrimAssist.Desk.Link.Settings;

/// <summary>
/// Whether a desk really answers when it is asked for one kind of control. Profiles say that it does unless told otherwise, and a desk that
/// only tells its values by itself must not look like one that has fallen silent.
/// </summary>
/// <param name="questions">How many questions of this kind a round has.</param>
internal sealed class AnswerHabit(int questions)
{
    /// <summary>A word that comes later than this after a question may be about something else.</summary>
    private const double PromptS = 0.3;

    /// <summary>Some answers are lost on the way; words that happen to follow a question are rarer than this by far.</summary>
    private const double Share = 0.75;

    private const int Fewest = 8;

    private readonly int _enough = Math.Max(Fewest, questions);
    private int _asked;
    private int _answered;

    /// <summary>Whether it has answered promptly for a whole round, or several where a round is short. Once proved it stays so until it is forgotten.</summary>
    public bool IsProved { get; private set; }

    /// <summary>A question of the slow round leaves. Those at the start prove nothing: a desk may tell everything then to whoever subscribes.</summary>
    public void Asked()
    {
        if (_asked == _enough)
        {
            IsProved |= _answered >= Share * _asked;
            (_asked, _answered) = (0, 0);
        }

        _asked++;
    }

    /// <summary>The first word after a question came.</summary>
    public void Heard(double afterS) => _answered += afterS <= PromptS ? 1 : 0;

    /// <summary>The desk was away: it may be another one.</summary>
    public void Forget() => (IsProved, _asked, _answered) = (false, 0, 0);
}
