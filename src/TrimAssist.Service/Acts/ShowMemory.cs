using TrimAssist.Core.Acts;
using TrimAssist.Journal;
using TrimAssist.Service.JournalLines;

namespace TrimAssist.Service.Acts;

/// <summary>
/// What every desk's shows said, from the journal and as it comes: what players hold back, and the trims an act ended with.
/// Shared by all desks, so that a player is found again on another. The lock guards a list and is never held across a wait.
/// </summary>
internal sealed class ShowMemory
{
    /// <summary>How many lines of shows are remembered; the journal remembers the rest.</summary>
    public const int Bound = 20_000;

    /// <summary>Ages of shows need no finer clock.</summary>
    private static readonly TimeSpan ModelLife = TimeSpan.FromHours(1);

    private readonly Lock _gate = new();
    private readonly TimeProvider _time;
    private readonly OrderedDictionary<LineKey, ShowInput> _shows = [];
    private AllowanceModel? _model;
    private DateTimeOffset _modelAt;

    private ShowMemory(TimeProvider time) => _time = time;

    /// <summary>
    /// Takes in what earlier runs left. A wish to be forgotten that cannot be read is granted to whomever its text names; where it names nobody
    /// known, to everybody heard before it.
    /// </summary>
    public static ShowMemory Read(LineReader journal, TimeProvider time)
    {
        var memory = new ShowMemory(time);
        foreach (var line in journal.ReadAfter(0, JournalKinds.Show, JournalKinds.PlayerForgotten))
        {
            if (!string.Equals(line.Fact.Kind, JournalKinds.PlayerForgotten, StringComparison.Ordinal))
            {
                if (journal.Read(line, ActLines.Show) is { } show)
                    memory.Take(show);
            }
            else if (journal.Read(line, ActLines.Player) is { } wish)
            {
                memory.Forget(wish.Player);
            }
            else if (memory.Forget(player => PlayerName.IsIn(line.Fact.Body, player)) == 0)
            {
                memory.Forget(static _ => true);
            }
        }

        return memory;
    }

    /// <summary>Takes in one line of a show; a later word about the same line takes the earlier one's place.</summary>
    public void Take(ShowInput show)
    {
        lock (_gate)
        {
            _shows[new(show.Desk, show.Act, show.BegunAt, show.Line.Input)] = show;
            if (_shows.Count > Bound)
                _shows.RemoveAt(0);
            _model = null;
        }
    }

    /// <summary>What to add for an act's input.</summary>
    public Allowance AllowanceOf(string act, ActInput line)
    {
        var model = Model();
        return model.For(ShowInput.PlayerKey(act, line), SourceKinds.Of(line.Source));
    }

    /// <summary>The lines of an act's last show on a desk; empty where there was none.</summary>
    public IReadOnlyList<ShowInput> LastShow(string desk, string act)
    {
        lock (_gate)
        {
            var shows = _shows.Values.Where(show => string.Equals(show.Act, act, StringComparison.OrdinalIgnoreCase) && Same(show.Desk, desk)).ToList();
            return shows.Count == 0 ? [] : shows.FindAll(show => show.BegunAt == shows.Max(one => one.BegunAt));
        }
    }

    /// <summary>Every player that was heard, with what is known of them.</summary>
    public IReadOnlyList<(string Player, string Kind, int Shows, Allowance Allowance)> Players()
    {
        var model = Model();
        lock (_gate)
        {
            return
            [
                .. _shows.Values.Where(show => show.Line.Player is not null && show.Teaches is not null)
                    .GroupBy(show => (Player: show.Teaches!.Player, show.Teaches.Kind))
                    .Select(group => (group.Last().Line.Player!, group.Key.Kind, ShowLessons.Of(group).Count, model.For(group.Key.Player, group.Key.Kind)))
                    .OrderBy(player => player.Item1, StringComparer.OrdinalIgnoreCase),
            ];
        }
    }

    /// <summary>Forgets a player: nothing heard of them counts any more, and their name is gone from what is remembered.</summary>
    /// <returns>How many lines were forgotten.</returns>
    public int Forget(string player) => Forget(one => PlayerName.IsSame(one, player));

    private int Forget(Func<string, bool> isMeant)
    {
        lock (_gate)
        {
            _model = null;
            var theirs = _shows.Where(show => show.Value.Line.Player is { } player && isMeant(player)).Select(show => show.Key).ToList();
            theirs.ForEach(line => _shows.Remove(line));
            return theirs.Count;
        }
    }

    private static bool Same(string left, string right) => string.Equals(left, right, StringComparison.Ordinal);

    private AllowanceModel Model()
    {
        lock (_gate)
        {
            var now = _time.GetUtcNow();
            if (_model is null || now - _modelAt > ModelLife)
                (_model, _modelAt) = (new AllowanceModel(ShowLessons.Of(_shows.Values), now), now);
            return _model;
        }
    }

    private readonly record struct LineKey(string Desk, string Act, DateTimeOffset BegunAt, int Input);
}
