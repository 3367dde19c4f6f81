using System.Net;

namespace TrimAssist.Service.Surfaces;

/// <summary>Where a surface is and what it speaks.</summary>
internal abstract record SurfacePlace;

/// <summary>A surface that speaks OSC.</summary>
/// <param name="Listen">Where its presses arrive.</param>
/// <param name="Feedback">Where it is shown what stands in its slots.</param>
/// <param name="AcceptFrom">Who may press.</param>
internal sealed record OscPlace(IPEndPoint Listen, IPEndPoint Feedback, IReadOnlyList<IPAddress> AcceptFrom) : SurfacePlace;

/// <summary>A surface that speaks MIDI.</summary>
/// <param name="Port">The name of a port of this machine; <see langword="null"/> for one on the network.</param>
/// <param name="Partner">On the network: whoever is invited, by the lower port; <see langword="null"/> to be invited.</param>
/// <param name="Listen">On the network: the lower port on this side; <see langword="null"/> for any.</param>
/// <param name="AcceptFrom">On the network: who may press.</param>
/// <param name="Keys">Its keys and lamps.</param>
internal sealed record MidiPlace(string? Port, IPEndPoint? Partner, IPEndPoint? Listen, IReadOnlyList<IPAddress> AcceptFrom, MidiKeys Keys) : SurfacePlace;
