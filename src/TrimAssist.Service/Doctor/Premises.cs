using TrimAssist.Desk.Profiles;
using TrimAssist.Service.Surfaces;

namespace TrimAssist.Service.Doctor;

/// <summary>What a service would be started with on this machine.</summary>
/// <param name="Desks">The desks; empty where none was named.</param>
/// <param name="DataFolder">Where the journal lives.</param>
/// <param name="Urls">Where the page would be served.</param>
/// <param name="Surfaces">The control surfaces; empty where none was named.</param>
internal sealed record Premises(IReadOnlyList<DeskProfile> Desks, string DataFolder, IReadOnlyList<Uri> Urls, IReadOnlyList<SurfaceOptions> Surfaces);
