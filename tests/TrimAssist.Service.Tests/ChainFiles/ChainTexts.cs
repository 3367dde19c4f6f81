namespace TrimAssist.Service.Tests.ChainFiles;

/// <summary>Invented chains as files.</summary>
internal static class ChainTexts
{
    public const string Good = """
        source_dbu = -30.0
        source_noise_dbu = -120.0
        target_dbfs = -12.0
        full_scale_dbu = 18.0
        headroom_db = 6.0

        [[stage]]
        name = "pedal"
        gain_db = [0, 20]
        step_db = 0.5
        now_db = 0.0
        max_in_dbu = 0.0
        max_out_dbu = 2.0
        noise_dbu = -95.0

        [[stage]]
        name = "DI"
        gain_db = -20.0
        max_in_dbu = 10.0

        [[stage]]
        name = "preamp"
        gain_db = [0, 60]
        step_db = 1.0
        now_db = 56.0
        pad_db = 20.0
        max_in_dbu = 6.0
        ein_dbu = -127.0
        """;

    public static string With(string old, string now) =>
        Good.Contains(old, StringComparison.Ordinal) ? Good.Replace(old, now, StringComparison.Ordinal) : throw new ArgumentException($"no \"{old}\" there", nameof(old));
}
