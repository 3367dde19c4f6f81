using System.Net;
using System.Text;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Service.Listen;

/// <summary>Keeps account of everything that arrives on a port, without knowing what it means. Bounded, whatever comes.</summary>
internal sealed class WireSurvey
{
    /// <summary>The most addresses that are told apart.</summary>
    public const int MostAddresses = 4096;

    private const int MostSenders = 64;

    private readonly Dictionary<(string Address, string Types), AddressTally> _tallies = [];
    private readonly Dictionary<IPEndPoint, long> _senders = [];

    /// <summary>What came, by address and types, in the order of the addresses.</summary>
    public IEnumerable<AddressTally> Tallies => _tallies.Values.OrderBy(tally => tally.Address, StringComparer.Ordinal);

    /// <summary>Who sent it, the busiest first.</summary>
    public IEnumerable<IPEndPoint> Senders => _senders.OrderByDescending(sender => sender.Value).Select(sender => sender.Key);

    /// <summary>Packets taken in.</summary>
    public long Packets { get; private set; }

    /// <summary>Packets that are no OSC, or hold messages that are none.</summary>
    public long Unreadable { get; private set; }

    /// <summary>Messages under addresses beyond the bound.</summary>
    public long TooMany { get; private set; }

    /// <summary>Takes in a packet.</summary>
    public void Take(ReadOnlySpan<byte> packet, IPEndPoint sender, double timeS)
    {
        Packets++;
        if (_senders.ContainsKey(sender) || _senders.Count < MostSenders)
            _senders[sender] = _senders.GetValueOrDefault(sender) + 1;
        var reader = new OscPacketReader(packet);
        while (reader.TryReadMessage(out var message))
            Take(message, timeS);
        Unreadable += reader.Error == OscError.None ? 0 : 1;
    }

    private void Take(OscMessageReader message, double timeS)
    {
        var key = (Encoding.UTF8.GetString(message.Address), Encoding.ASCII.GetString(message.TypeTags));
        if (!_tallies.TryGetValue(key, out var tally))
        {
            if (_tallies.Count >= MostAddresses)
            {
                TooMany++;
                return;
            }

            _tallies.Add(key, tally = new AddressTally(key.Item1, key.Item2));
        }

        tally.Take(message, timeS);
    }
}
