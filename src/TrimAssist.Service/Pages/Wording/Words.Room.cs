namespace TrimAssist.Service.Pages.Wording;

// Words of a rehearsal room's view.
internal static partial class Words
{
    public static string Room => Text();
    public static string RoomListens => Text();
    public static string RoomEngineer => Text();
    public static string RoomCaution => Text();

    /// <summary>How many proposals wait for the band.</summary>
    public static string RoomWaits(int proposals) => proposals switch
    {
        0 => Text("RoomWaitNone"),
        1 => Text("RoomWaitOne"),
        _ => Filled("RoomWaitMany", proposals),
    };
}
