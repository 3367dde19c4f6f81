using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;

namespace TrimAssist.Audio.Tests.Recordings;

/// <summary>FFmpeg as an independent meter: its filters <c>astats</c> and <c>ebur128</c>.</summary>
internal static partial class Ffmpeg
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    public static bool Present { get; } = (Environment.GetEnvironmentVariable("PATH") ?? "")
        .Split(Path.PathSeparator).Any(folder => File.Exists(Path.Combine(folder, "ffmpeg")));

    /// <summary>Peak and mathematical RMS of every channel in dB.</summary>
    public static List<(double PeakDb, double RmsDb)> Levels(string file)
    {
        var said = Run("-i", file, "-af", "astats=measure_perchannel=Peak_level+RMS_level:measure_overall=none", "-f", "null", "-");
        return [.. PeakLevel().Matches(said).Zip(RmsLevel().Matches(said), (peak, rms) => (Number(peak), Number(rms)))];
    }

    /// <summary>Integrated loudness in LUFS, and the highest true peak of all channels in dBTP, which is printed with one decimal.</summary>
    public static (double IntegratedLufs, double TruePeakDbtp) Loudness(string file)
    {
        var said = Run("-i", file, "-af", "ebur128=metadata=1:peak=true,ametadata=print:key=lavfi.r128.I", "-f", "null", "-");
        return (Number(Integrated().Matches(said)[^1]), Number(TruePeak().Matches(said)[^1]));
    }

    /// <summary>Writes any recording as a WAV file of 24 bits.</summary>
    public static void Convert(string from, string to) => Run("-i", from, "-c:a", "pcm_s24le", "-y", to);

    private static string Run(params string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo("ffmpeg", ["-hide_banner", "-nostats", "-nostdin", .. arguments]) { RedirectStandardError = true, UseShellExecute = false })!;
        var said = process.StandardError.ReadToEndAsync();
        if (!process.WaitForExit(Patience))
            process.Kill(entireProcessTree: true);
        Assert.True(process.ExitCode == 0, said.Result);
        return said.Result;
    }

    private static double Number(Match match) => match.Groups["value"].Value is "-inf" ? double.NegativeInfinity : double.Parse(match.Groups["value"].Value, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"Peak level dB: (?<value>\S+)", RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex PeakLevel();

    [GeneratedRegex(@"RMS level dB: (?<value>\S+)", RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex RmsLevel();

    [GeneratedRegex(@"lavfi\.r128\.I=(?<value>\S+)", RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex Integrated();

    [GeneratedRegex(@"Peak:\s+(?<value>\S+) dBFS", RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex TruePeak();
}
