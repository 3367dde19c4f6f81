using TrimAssist.Core.Desks;

namespace TrimAssist.Core.Proposals;

/// <summary>When a desk's own pad should go in, and when one that is in was probably left in: for proposals and for advice alike.</summary>
internal static class PadRule
{
    /// <summary>A pad that is in while the trim stands this close to its top was probably left in: common practice.</summary>
    private const double NearTopDb = 6;

    /// <summary>Whether a trim stands so near its top that it makes up for a pad.</summary>
    public static bool IsNearTop(TrimControl trim, double trimDb) => trimDb > trim.MaxDb - NearTopDb;

    /// <summary>The trim that the pad leaves to set once it is in; <see langword="null"/> where it need not go in, or where even then no trim fits.</summary>
    /// <param name="pad">The pad, which is out.</param>
    /// <param name="trim">The trim.</param>
    /// <param name="wantedDb">The trim that the target asks for with the pad out, whether the desk has it or not.</param>
    public static double? GoesIn(PadControl pad, TrimControl trim, double wantedDb) =>
        wantedDb < trim.MinDb && wantedDb + pad.PadDb <= trim.MaxDb ? wantedDb + pad.PadDb : null;

    /// <summary>The trim to set once the pad is out; <see langword="null"/> where it was not left in, or where no trim is low enough without it.</summary>
    /// <param name="pad">The pad, which is in.</param>
    /// <param name="trim">The trim.</param>
    /// <param name="wantedDb">The trim that the target asks for with the pad in, whether the desk has it or not.</param>
    public static double? ComesOut(PadControl pad, TrimControl trim, double wantedDb) =>
        IsNearTop(trim, wantedDb) && wantedDb - pad.PadDb >= trim.MinDb ? wantedDb - pad.PadDb : null;
}
