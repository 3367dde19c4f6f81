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

    /// <summary>The watch over an act's show ended. It may begin again; the later words then take the earlier ones' place.</summary>
    void ShowHeard(IReadOnlyList<ShowInput> inputs)
    {
    }

    /// <summary>A safe patch is new or has changed.</summary>
    void PatchChanged(SafePatch patch);
}
