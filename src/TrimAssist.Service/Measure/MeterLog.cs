using TrimAssist.Audio;
using TrimAssist.Core.Meters;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Measure;

/// <summary>A log of a desk's meters as CSV. It is read twice, once to look it over and once to play it, so that its length does not matter.</summary>
internal sealed class MeterLog : IMeterSource
{
    private readonly string _path;
    private readonly LogSurvey _survey;

    private MeterLog(string path, LogSurvey survey) => (_path, _survey) = (path, survey);

    /// <inheritdoc/>
    public MeterTraits Traits => new(_survey.FrameS, 0, MeterTap.Converter, FollowsMute: false);

    /// <inheritdoc/>
    public double SineCrestDb => _survey.SineCrestDb;

    /// <inheritdoc/>
    public IReadOnlyList<int> Channels => _survey.Channels;

    /// <inheritdoc/>
    public double DurationS => _survey.LastS - _survey.FirstS + _survey.FrameS;

    /// <inheritdoc/>
    public IReadOnlyList<string> Warnings => _survey.Warnings;

    /// <summary>Looks a log over.</summary>
    /// <exception cref="UsageException">Nothing in it is usable.</exception>
    public static MeterLog Open(string path)
    {
        var survey = new LogSurvey();
        using var reader = new StreamReader(path);
        if (!IsHeader(reader.ReadLine()))
            throw new UsageException($"{path}: a meter log begins with the line {MeterLogRow.Header}");
        var number = 1;
        while (reader.ReadLine() is { } line)
            survey.Row(++number, line);
        survey.Close();
        if (survey.Channels.Count > 0)
            return new MeterLog(path, survey);
        var first = survey.Warnings is [var warning, ..] ? $", beginning with {warning}" : "";
        throw new UsageException($"{path}: no usable row{first}");
    }

    /// <inheritdoc/>
    public void Play(Action<MeterReading> tell)
    {
        var order = new RowOrder();
        using var reader = new StreamReader(_path);
        _ = reader.ReadLine();
        while (reader.ReadLine() is { } line)
        {
            if (MeterLogRow.Read(line, out var reading) is null && order.Takes(reading))
                tell(reading);
        }
    }

    /// <inheritdoc/>
    public double? HighestPeak(int channel) => _survey.HighestPeak(channel);

    /// <inheritdoc/>
    public ChannelMeasurement? Samples(int channel) => null;

    private static bool IsHeader(string? line) =>
        line?.TrimStart('\uFEFF').Replace(" ", "", StringComparison.Ordinal).Equals(MeterLogRow.Header, StringComparison.OrdinalIgnoreCase) == true;
}
