using System.Globalization;

namespace TrimAssist.TestKit.Network;

/// <summary>
/// This machine's road to itself. On Linux a sent packet waits for a thread of the kernel, which a busy machine may keep waiting for a long
/// time: a test that moves its own clock waits here for what is on its way, or seconds pass before a word of some microseconds arrives.
/// </summary>
public static class Loopback
{
    private const string Figures = "/proc/net/softnet_stat";

    // Columns of that file, in hexadecimal, a line for each processor: packets taken so far, and packets that wait.
    private const int TakenColumn = 0;
    private const int WaitingColumn = 11;

    /// <summary>Waits until every packet that is on its way now lies in its socket; elsewhere than on Linux, not at all.</summary>
    public static void Settle()
    {
        var targets = Read().ConvertAll(one => one.Taken + one.Waiting);
        // The count runs over, so that only a difference tells before from after.
        while (Read().Zip(targets, (now, target) => (int)(now.Taken - target)).Any(beyond => beyond < 0))
            Thread.Yield();
    }

    private static List<(uint Taken, uint Waiting)> Read() => !File.Exists(Figures) ? [] :
        File.ReadAllLines(Figures)
            .Select(line => line.Split(' '))
            .Where(columns => columns.Length > WaitingColumn)
            .Select(columns => (Number(columns[TakenColumn]), Number(columns[WaitingColumn])))
            .ToList();

    private static uint Number(string text) => uint.Parse(text, NumberStyles.HexNumber, CultureInfo.InvariantCulture);
}
