using TrimAssist.Desk.Profiles;

namespace TrimAssist.Service.Doctor;

/// <summary>What a service would be started with on this machine.</summary>
/// <param name="Desks">The desks; empty where none was named.</param>
/// <param name="DataFolder">Where the journal lives.</param>
/// <param name="Urls">Where the page would be served.</param>
internal sealed record Premises(IReadOnlyList<DeskProfile> Desks, string DataFolder, IReadOnlyList<Uri> Urls);
