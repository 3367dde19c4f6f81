using TrimAssist.Core.Chain;
using TrimAssist.Core.Units;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Service.ChainFiles;

/// <summary>Reads one <c>[[stage]]</c>.</summary>
internal static class StageReader
{
    private const double MostGain = 120;

    /// <summary>The distance between settings where the file gives none: fine enough that nobody hears it.</summary>
    private const double UsualStep = 0.1;

    /// <summary>Reads the stage; <see langword="null"/> where a figure that it needs is missing or wrong.</summary>
    public static ChainStage? Read(TableReader table)
    {
        var name = table.RequiredText("name", "what the stage is called");
        var gain = Gain(table);
        var step = Fine(table, "step_db", 0.001, MostGain);
        var now = table.Number("now_db", -MostGain, MostGain);
        var pad = Fine(table, "pad_db", 0.001, MostGain);
        var padNow = table.Flag("pad_now");
        var stage = name is null || gain is null ? null : new ChainStage
        {
            Name = name,
            MinGain = new Decibels(gain.Value.Low),
            MaxGain = new Decibels(gain.Value.High),
            Step = new Decibels(step ?? UsualStep),
            Now = now is { } today ? new Decibels(today) : null,
            Pad = pad is { } loss ? new Decibels(loss) : null,
            PadInNow = padNow ?? false,
            MaxIn = ChainFileReader.Level(table, "max_in_dbu"),
            MaxOut = ChainFileReader.Level(table, "max_out_dbu"),
            IsDeskTrim = table.Flag("desk_trim") ?? false,
            Noise = Noise(table),
        };
        Check(table, gain, now);
        table.RefuseUnknown("max_in_dbu", "max_out_dbu", "noise_dbu", "ein_dbu");
        return stage;
    }

    private static void Check(TableReader table, (double Low, double High)? gain, double? now)
    {
        if (gain is var (low, high) && now is { } today && (today < low || today > high))
            table.Problems.Error(table.Node("now_db")!, $"lies outside gain_db, {low:0.###} to {high:0.###}");
        if (table.Has("pad_now") && !table.Has("pad_db"))
            table.Problems.Error(table.Node("pad_now")!, "says where a pad is, but the stage has no pad_db");
    }

    private static StageNoise? Noise(TableReader table)
    {
        var output = ChainFileReader.Level(table, "noise_dbu");
        var input = ChainFileReader.Level(table, "ein_dbu");
        if (table.Has("noise_dbu") && table.Has("ein_dbu"))
            table.Problems.Error(table.Node("ein_dbu")!, "give noise_dbu (at the output) or ein_dbu (at the input), not both");
        return output is { } added ? StageNoise.AtOutput(added) : input is { } equivalent ? StageNoise.AtInput(equivalent) : null;
    }

    private static (double Low, double High)? Gain(TableReader table)
    {
        if (table.Required("gain_db", "the lowest and the highest gain, as [min, max]; one number where nothing can be turned") is not { } node)
            return null;
        if (node is TomlScalar && AsFine(table, node, -MostGain, MostGain) is { } only)
            return (only, only);
        if (node is not TomlArray { Items: [var low, var high] })
        {
            if (node is not TomlScalar)
                table.Problems.Error(node, "must be a list of two numbers, the lower one first");
            return null;
        }

        if (AsFine(table, low, -MostGain, MostGain) is not { } first || AsFine(table, high, -MostGain, MostGain) is not { } second)
            return null;
        if (first <= second)
            return (first, second);
        table.Problems.Error(node, "the first number must not be higher than the second");
        return null;
    }

    private static double? Fine(TableReader table, string key, double min, double max) =>
        table.Node(key) is { } node ? AsFine(table, node, min, max) : null;

    private static double? AsFine(TableReader table, TomlNode node, double min, double max)
    {
        if (table.AsNumber(node, min, max) is not { } value)
            return null;
        if (Math.Abs(value * 1000 - Math.Round(value * 1000)) < 1e-6)
            return value;
        table.Problems.Error(node, "has more than three decimals; thousandths of a decibel are the finest");
        return null;
    }
}
