using System.Text.Json;
using TrimAssist.Core.Meters;
using TrimAssist.Service.Clocks;

namespace TrimAssist.Service.Loops;

/// <summary>Gathers the readings of one meter frame, so that the page gets one event a frame rather than one an input.</summary>
internal sealed class MeterBoard(string desk, int inputs, PictureClock pictures)
{
    private readonly float[] _peak = NewLevels(inputs);
    private readonly float[] _rms = NewLevels(inputs);
    private readonly bool[] _fresh = new bool[inputs];
    private readonly System.Buffers.ArrayBufferWriter<byte> _json = new(4096);
    private static readonly TimeSpan LongestWait = TimeSpan.FromMilliseconds(10);
    private double _timeS;
    private TimeSpan _since;
    private int _count;

    /// <summary>Takes in a reading.</summary>
    /// <returns>Whether the reading begins a new frame: the frame before is complete and should be taken first.</returns>
    public bool BeginsNewFrame(in MeterReading reading) => _fresh[reading.Input - 1];

    /// <summary>Keeps a reading for the frame under way.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="now">When it came.</param>
    public void Keep(in MeterReading reading, TimeSpan now)
    {
        var index = reading.Input - 1;
        _peak[index] = reading.PeakDbfs;
        _rms[index] = reading.RmsDbfs;
        _timeS = reading.TimeS;
        if (_count == 0)
            _since = now;
        if (!_fresh[index])
            _count++;
        _fresh[index] = true;
    }

    /// <summary>
    /// Whether the frame under way should go out: it is complete, or its first reading has waited long enough. A desk that spreads its
    /// messages over the frame would otherwise make an event of each.
    /// </summary>
    public bool IsDue(TimeSpan now) => _count == inputs || (_count > 0 && now - _since >= LongestWait);

    /// <summary>The frame as JSON, or <see langword="null"/> where nothing new came; begins a new frame.</summary>
    public string? Take(bool wanted)
    {
        if (_count == 0)
            return null;
        _count = 0;
        Array.Clear(_fresh);
        return wanted ? Write() : null;
    }

    private string Write()
    {
        _json.ResetWrittenCount();
        using (var json = new Utf8JsonWriter(_json))
        {
            json.WriteStartObject();
            json.WriteString("desk", desk);
            json.WriteNumber("timeS", Math.Round(_timeS, 3));
            json.WriteNumber("picture", pictures.Stamp());
            WriteLevels(json, "peakDbfs", _peak);
            WriteLevels(json, "rmsDbfs", _rms);
            json.WriteEndObject();
        }

        return System.Text.Encoding.UTF8.GetString(_json.WrittenSpan);
    }

    private static void WriteLevels(Utf8JsonWriter json, string name, float[] levels)
    {
        json.WriteStartArray(name);
        foreach (var level in levels)
        {
            if (float.IsFinite(level))
                json.WriteNumberValue(Math.Round(level, 1));
            else
                json.WriteNullValue();
        }

        json.WriteEndArray();
    }

    private static float[] NewLevels(int inputs)
    {
        var levels = new float[inputs];
        Array.Fill(levels, float.NaN);
        return levels;
    }
}
