using System.Text;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Service.Listen;

/// <summary>What has come under one address with one set of types.</summary>
internal sealed class AddressTally(string address, string types)
{
    private const int MostSamples = 64;
    private const int MostArguments = 128;

    private readonly List<byte[]> _blobs = [];

    /// <summary>The address.</summary>
    public string Address { get; } = address;

    /// <summary>The type tags.</summary>
    public string Types { get; } = types;

    /// <summary>The arguments in order.</summary>
    public IReadOnlyList<ArgumentTally> Arguments { get; } =
        [.. types.Where(tag => !OscTypeTag.IsBracket((byte)tag)).Take(MostArguments).Select(tag => new ArgumentTally((byte)tag))];

    /// <summary>Some of the blobs, in the order in which they came.</summary>
    public IReadOnlyList<byte[]> Blobs => _blobs;

    /// <summary>How many messages came.</summary>
    public long Count { get; private set; }

    /// <summary>When the first came, in seconds.</summary>
    public double FirstS { get; private set; } = double.NaN;

    /// <summary>When the last came, in seconds.</summary>
    public double LastS { get; private set; }

    /// <summary>Messages per second; <see langword="null"/> before the third.</summary>
    public double? PerSecond => Count > 2 && LastS > FirstS ? (Count - 1) / (LastS - FirstS) : null;

    /// <summary>Takes in a message.</summary>
    public void Take(OscMessageReader message, double timeS)
    {
        Count++;
        FirstS = double.IsNaN(FirstS) ? timeS : FirstS;
        LastS = timeS;
        message.Rewind();
        for (var index = 0; index < Arguments.Count && message.TrySeek(index); index++)
        {
            if (message.TryReadNumber(out var number))
                Arguments[index].Take(number);
            else if (message.TryReadString(out var text))
                Arguments[index].Take(Encoding.UTF8.GetString(text));
            else if (message.TryReadBlob(out var blob) && _blobs.Count < MostSamples)
                _blobs.Add(blob.ToArray());
        }
    }
}
