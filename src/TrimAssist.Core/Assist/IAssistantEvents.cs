using TrimAssist.Core.Acts;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Core.Assist;

/// <summary>Where a desk's assistant tells what happened. Called on the desk's loop, in order; must return at once.</summary>
public interface IAssistantEvents
{
    /// <summary>A proposal is new or has changed.</summary>
    void ProposalChanged(Proposal proposal);

    /// <summary>An alarm is new or has changed.</summary>
    void AlarmChanged(Alarm alarm);

    /// <summary>A check is new or has changed.</summary>
    void CheckChanged(SoundCheck check);

    /// <summary>An act has come on.</summary>
    void ActBegun(string desk, Act act, DateTimeOffset at)
    {
    }

    /// <summary>The act that was on has gone off; none is on.</summary>
    void ActEnded(string desk, Act act, DateTimeOffset at)
    {
    }

    /// <summary>What an act's show was like, or is like so far. The watch may begin again; later words take the earlier ones' place.</summary>
    /// <param name="inputs">Its inputs.</param>
    /// <param name="isOver">Whether the watch ended. What goes on is to be written down, and teaches nothing yet: it must not move what it is measured by.</param>
    void ShowHeard(IReadOnlyList<ShowInput> inputs, bool isOver)
    {
    }

    /// <summary>A safe patch is new or has changed.</summary>
    void PatchChanged(SafePatch patch);
}
