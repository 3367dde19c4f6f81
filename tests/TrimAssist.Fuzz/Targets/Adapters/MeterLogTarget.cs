using System.Text;
using TrimAssist.Service.Measure;

namespace TrimAssist.Fuzz.Targets.Adapters;

/// <summary>Any lines as the rows of a meter log.</summary>
public static class MeterLogTarget
{
    public static void Run(ReadOnlySpan<byte> bytes)
    {
        var survey = new LogSurvey();
        using var lines = new StringReader(Encoding.UTF8.GetString(bytes));
        for (var number = 2; lines.ReadLine() is { } line; number++)
            survey.Row(number, line);
        survey.Close();
        Expect.That(double.IsFinite(survey.FrameS) && survey.FrameS > 0, "no frame length");
        Expect.That(survey.Channels.Count == 0 || survey.LastS >= survey.FirstS, "time ran backwards");
    }
}
