namespace TrimAssist.Service.Tests.Foreign;

/// <summary>A scripted desk as the scenario needs it, whatever it speaks.</summary>
internal interface IForeignDesk : IDisposable
{
    /// <summary>The desk's id.</summary>
    string Id { get; }

    /// <summary>The length of a meter frame.</summary>
    double FrameS { get; }

    /// <summary>The profile by which the service knows it.</summary>
    string ProfileText { get; }

    /// <summary>What the desk is underneath.</summary>
    DeskState State { get; }

    /// <summary>Trims that somebody set from outside.</summary>
    List<(int Number, double Db)> Writes { get; }

    /// <summary>Takes in and answers whatever waits.</summary>
    void Attend();

    /// <summary>Sends the meters of one frame.</summary>
    void SendFrame();

    /// <summary>Somebody turns a knob at the desk.</summary>
    void TurnByHand(int number, double db);

    /// <summary>From now on a share of what travels is lost, both ways.</summary>
    void Lose(double share, int seed);

    /// <summary>Switches the desk off.</summary>
    void TurnOff();

    /// <summary>Switches it on again, where it was.</summary>
    void TurnOn();
}
