namespace TrimAssist.Service.Listen;

/// <summary>What one argument of one address has held so far.</summary>
internal sealed class ArgumentTally(byte tag)
{
    private double _last = double.NaN;
    private long _rises;

    /// <summary>The type tag.</summary>
    public byte Tag { get; } = tag;

    /// <summary>The lowest finite number.</summary>
    public double Lowest { get; private set; } = double.PositiveInfinity;

    /// <summary>The highest finite number.</summary>
    public double Highest { get; private set; } = double.NegativeInfinity;

    /// <summary>How many finite numbers there were.</summary>
    public long Numbers { get; private set; }

    /// <summary>The last text; <see langword="null"/> where there was none.</summary>
    public string? Text { get; private set; }

    /// <summary>Whether the number never fell and rose all the while, as a counter does.</summary>
    public bool IsCounter => Numbers > 4 && _rises >= Numbers - 2;

    /// <summary>Takes in a number.</summary>
    public void Take(double number)
    {
        if (!double.IsFinite(number))
            return;
        Numbers++;
        (Lowest, Highest) = (Math.Min(Lowest, number), Math.Max(Highest, number));
        _rises += number > _last ? 1 : 0;
        _last = number;
    }

    /// <summary>Takes in a text.</summary>
    public void Take(string text) => Text = text.Length > 40 ? text[..40] : text;
}
