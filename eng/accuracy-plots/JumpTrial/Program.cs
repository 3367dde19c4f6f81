// Plays meter logs through the jump listeners and prints every word they say, or what each rise weighed.
//   JumpTrial (words|terms|first) FRAME_MS FILE... [--peak-only] [--release DB_PER_S] [--strictness N]
// Words: file,input,id,stage,kind,time,saidAt,size,peak. Terms, and first (what was known in the rise's own frame): file,input,time,odds,term...,|,measure...
using System.Globalization;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Listening.Jumps;
using TrimAssist.Core.Meters;

const double PlainRms = 3.0103;
var files = args.Skip(2).TakeWhile(a => !a.StartsWith("--", StringComparison.Ordinal)).ToList();
double Option(string name) => Array.IndexOf(args, name) is var at and >= 0 ? double.Parse(args[at + 1], CultureInfo.InvariantCulture) : 0;
var (frameS, release, peakOnly) = (double.Parse(args[1], CultureInfo.InvariantCulture) / 1000, Option("--release"), args.Contains("--peak-only"));
foreach (var file in files)
{
    var rows = File.ReadLines(file).Skip(1).Select(line => line.Split(','));
    var inputs = rows.Take(1000).Max(row => int.Parse(row[1], CultureInfo.InvariantCulture));
    var options = new JumpOptions(new MeterTraits(frameS, release)) { SineCrestDb = PlainRms, Strictness = Option("--strictness") };
    var stage = new StageListener(inputs, options);
    var (ring, shown) = (new FindingRing(), new float[inputs]);
    Array.Fill(shown, float.NegativeInfinity);
    for (var input = 1; input <= inputs; input++)
    {
        var which = input;
        RiseTrace.Taker print = (time, odds, terms, more) => Console.WriteLine(
            $"{Path.GetFileName(file)},{which},{time:0.000},{odds:0.000},{string.Join(',', terms.ToArray())},|,{string.Join(',', more.ToArray())}");
        RiseTrace.Taker ignore = (_, _, _, _) => { };
        if (args[0] is "terms" or "first")
            stage.TraceInto(input, args[0] is "first" ? new RiseTrace(print, ignore) : new RiseTrace(ignore, print));
    }

    foreach (var row in rows)
    {
        var (time, input) = (double.Parse(row[0], CultureInfo.InvariantCulture), int.Parse(row[1], CultureInfo.InvariantCulture));
        var peak = float.Parse(row[2], CultureInfo.InvariantCulture);
        var rms = peakOnly || row[3].Length == 0 ? float.NaN : float.Parse(row[3], CultureInfo.InvariantCulture);
        if (release > 0)
            peak = shown[input - 1] = Math.Max(peak, shown[input - 1] - (float)(release * frameS));
        stage.Observe(new MeterReading(input, time, peak, rms), ring);
        while (ring.TryTake(out var word))
        {
            if (string.Equals(args[0], "words", StringComparison.Ordinal))
                Console.WriteLine($"{Path.GetFileName(file)},{word.Input},{word.Id},{word.Stage},{word.Kind},{word.TimeS:0.000},{time:0.000},{word.SizeDb:0.0},{word.PeakDbfs:0.0}");
        }
    }
}
