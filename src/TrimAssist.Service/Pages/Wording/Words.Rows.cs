namespace TrimAssist.Service.Pages.Wording;

// Words of an input's row.
internal static partial class Words
{
    public static string Muted => Text();
    public static string Pad => Text();
    public static string Phantom => Text();
    public static string Clips => Text();
    public static string Hisses => Text();
    public static string Plugging => Text();

    /// <summary>An input as a screen reader names it.</summary>
    public static string Input(string called) => Filled("InputCalled", called);

    /// <summary>The window of a row in words.</summary>
    public static string Bar(double? held, double? passage, double? floor, double? forecast, double target) =>
        Filled("Bar", Said(held), Said(passage), Said(floor), Said(forecast), Round(target));
}
