using System.Globalization;
using PackCare.CalibrationStudy;

var packs = 300;
ulong seed = 1;
var curveSpread = 0.2;
if (args.Length > 3
    || (args.Length > 0 && (!int.TryParse(args[0], NumberStyles.None, CultureInfo.InvariantCulture, out packs) || packs < 1))
    || (args.Length > 1 && !ulong.TryParse(args[1], NumberStyles.None, CultureInfo.InvariantCulture, out seed))
    || (args.Length > 2 && (!double.TryParse(args[2], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out curveSpread) || curveSpread > 1)))
{
    Console.Error.WriteLine("Usage: CalibrationStudy [PACKS [SEED [CURVE]]]");
    Console.Error.WriteLine("Simulates packs with known truth, lets the analysis judge their logs, and prints how often its intervals hold");
    Console.Error.WriteLine("the truth and how often its findings are right. 300 packs take about a minute.");
    Console.Error.WriteLine("CURVE (0 to 1, usually 0.2) is how far the packs' rest curves may leave the one that the analysis knows.");
    return 2;
}

var tally = new Tally();
foreach (var trial in ParallelEnumerable.Range(0, packs).AsOrdered().Select(pack => Trial.Run(seed, pack, curveSpread)))
{
    tally.Add(trial);
}

Console.Write(tally.Markdown());
return 0;
