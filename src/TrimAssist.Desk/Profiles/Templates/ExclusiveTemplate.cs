using System.Globalization;
using TrimAssist.Protocols.Midi;

namespace TrimAssist.Desk.Profiles.Templates;

/// <summary>A system exclusive message with places for the input, the value and a checksum, made ready for matching bytes without allocation.</summary>
public sealed class ExclusiveTemplate
{
    private const int Most = 1024;
    private readonly ExclusivePart[] _parts;
    private readonly Checksum _checksum;
    private readonly int _length;

    private ExclusiveTemplate(string text, ExclusivePart[] parts, Checksum checksum)
    {
        (Text, _parts, _checksum) = (text, parts, checksum);
        _length = parts.Sum(part => part.Width);
        HasInput = Array.Exists(parts, part => part.Place == ExclusivePlace.Input);
        var value = Array.FindIndex(parts, part => part.Place == ExclusivePlace.Value);
        HasValue = value >= 0;
        MostValue = HasValue ? parts[value].Room - 1 : 0;
    }

    /// <summary>The template as the profile has it.</summary>
    public string Text { get; }

    /// <summary>Whether the input's number stands in it.</summary>
    public bool HasInput { get; }

    /// <summary>Whether a value stands in it.</summary>
    public bool HasValue { get; }

    /// <summary>Whether a checksum stands in it.</summary>
    public bool HasChecksum => Array.Exists(_parts, part => part.Place == ExclusivePlace.Checksum);

    /// <summary>The largest value that fits.</summary>
    public int MostValue { get; }

    /// <summary>Reads a template: bytes in hexadecimal and places in braces, between spaces.</summary>
    /// <param name="text">The text.</param>
    /// <param name="checksum">How <c>{checksum}</c> is reckoned.</param>
    /// <param name="fault">What is wrong with it; <see langword="null"/> when all is well.</param>
    public static ExclusiveTemplate? Parse(string text, Checksum checksum, out string? fault)
    {
        fault = null;
        List<ExclusivePart> parts = [];
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (Part(word) is not { } part)
            {
                fault = $"\"{word}\" is neither a byte in hexadecimal nor {{input}}, {{value:2}}, {{checksum}} or the like";
                return null;
            }

            parts.Add(part);
        }

        fault = FaultOf(parts);
        return fault is null ? new(text, [.. parts], checksum) : null;
    }

    /// <summary>The message with its value left out: what asks for the value where a bare message does.</summary>
    public ExclusiveTemplate Bare() => new(Text, [.. _parts.Where(part => part.Place != ExclusivePlace.Value)], _checksum);

    /// <summary>The message for one input; <see langword="null"/> where a number does not fit, or a value is missing.</summary>
    public byte[]? Format(int input, int? value)
    {
        var bytes = new byte[_length];
        var at = 0;
        foreach (var part in _parts)
        {
            var number = part.Place switch
            {
                ExclusivePlace.Byte => part.Number,
                ExclusivePlace.Input => input + part.Number,
                ExclusivePlace.Value => value ?? -1,
                _ => _checksum.Of(bytes.AsSpan(0, at)),
            };
            if (part.Place == ExclusivePlace.Byte)
                bytes[at] = (byte)number;
            else if (!part.TryWrite(number, bytes.AsSpan(at)))
                return null;
            at += part.Width;
        }

        return bytes;
    }

    /// <summary>Whether a message is one of this template's, its checksum included.</summary>
    /// <param name="message">The whole message with F0 and F7.</param>
    /// <param name="count">How many values stand where the template has its one.</param>
    /// <param name="input">The input's number; 0 where the template has no place for it.</param>
    /// <param name="values">The bytes of the values.</param>
    public bool TryMatch(ReadOnlySpan<byte> message, int count, out int input, out ReadOnlySpan<byte> values)
    {
        input = 0;
        values = default;
        var at = 0;
        foreach (var part in _parts)
        {
            var width = part.Place == ExclusivePlace.Value ? part.Width * count : part.Width;
            if (message.Length - at < width)
                return false;
            var bytes = message.Slice(at, width);
            switch (part.Place)
            {
                case ExclusivePlace.Byte when bytes[0] != part.Number:
                case ExclusivePlace.Checksum when bytes[0] != _checksum.Of(message[..at]):
                    return false;
                case ExclusivePlace.Value:
                    values = bytes;
                    break;
                case ExclusivePlace.Input:
                    var number = part.Read(bytes) - part.Number;
                    if (number < 1 || (input != 0 && input != number))
                        return false;
                    input = number;
                    break;
            }

            at += width;
        }

        return at == message.Length;
    }

    /// <summary>One of the values that <see cref="TryMatch"/> found.</summary>
    public int ValueAt(ReadOnlySpan<byte> values, int index)
    {
        foreach (ref readonly var part in _parts.AsSpan())
        {
            if (part.Place == ExclusivePlace.Value)
                return part.Read(values.Slice(index * part.Width, part.Width));
        }

        return 0;
    }

    /// <summary>Whether some message of one template could be one of the other; a place is taken to hold anything that it may.</summary>
    public static bool CouldMeet(ExclusiveTemplate left, int leftCount, ExclusiveTemplate right, int rightCount, int inputs)
    {
        var (mine, theirs) = (left.Spans(leftCount, inputs), right.Spans(rightCount, inputs));
        return mine.Count == theirs.Count && mine.Zip(theirs).All(pair => pair.First.Low <= pair.Second.High && pair.Second.Low <= pair.First.High);
    }

    /// <inheritdoc/>
    public override string ToString() => Text;

    // The least and the greatest that each byte of the message can be.
    private List<(int Low, int High)> Spans(int count, int inputs)
    {
        List<(int Low, int High)> spans = [];
        foreach (var part in _parts)
        {
            if (part.Place == ExclusivePlace.Byte)
                spans.Add((part.Number, part.Number));
            else if (part is { Place: ExclusivePlace.Input, Width: 1 })
                spans.Add((1 + part.Number, inputs + part.Number));
            else
                spans.AddRange(Enumerable.Repeat((0, 0x7F), part.Width * (part.Place == ExclusivePlace.Value ? count : 1)));
        }

        return spans;
    }

    private static ExclusivePart? Part(string word)
    {
        if (word.Length == 2 && byte.TryParse(word, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var literal))
            return new(ExclusivePlace.Byte, literal, 1);
        if (word.Length < 3 || word[0] != '{' || word[^1] != '}')
            return null;

        var pieces = word[1..^1].Split(':');
        var lowFirst = pieces is [_, _, "low"];
        if (pieces.Length > 3 || (pieces.Length == 3 && !lowFirst))
            return null;
        var width = pieces.Length == 1 ? 1 : pieces[1] switch { "1" => 1, "2" => 2, "3" => 3, _ => 0 };
        return (pieces[0], width) switch
        {
            (_, 0) => null,
            ("checksum", 1) when pieces.Length == 1 => new(ExclusivePlace.Checksum, 0, 1),
            ("value", _) => new(ExclusivePlace.Value, 0, width, lowFirst),
            _ => MidiNumber.OffsetOf(pieces[0]) is { } offset ? new(ExclusivePlace.Input, offset, width, lowFirst) : null,
        };
    }

    private static string? FaultOf(List<ExclusivePart> parts)
    {
        bool Is(int index, int value) => parts[index] is { Place: ExclusivePlace.Byte } part && part.Number == value;
        if (parts.Count < 3 || parts.Count > Most || !Is(0, MidiStatus.Exclusive) || !Is(parts.Count - 1, MidiStatus.EndOfExclusive))
            return "a system exclusive message begins with F0 and ends with F7";
        if (parts[1..^1].Exists(part => part.Place == ExclusivePlace.Byte && part.Number > 0x7F))
            return "between F0 and F7 every byte is 7F or less";
        if (parts.Count(part => part.Place == ExclusivePlace.Value) > 1)
            return "needs {value} exactly once";
        return parts.Count(part => part.Place == ExclusivePlace.Checksum) > 1 ? "has {checksum} twice" : null;
    }
}
