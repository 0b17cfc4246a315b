using System.Globalization;
using PackCare.Calibrate;

int packs = 2000;
ulong seed = 1;
if (args.Length > 2
    || (args.Length > 0 && (!int.TryParse(args[0], NumberStyles.None, CultureInfo.InvariantCulture, out packs) || packs < 4))
    || (args.Length > 1 && !ulong.TryParse(args[1], NumberStyles.None, CultureInfo.InvariantCulture, out seed)))
{
    Console.Error.WriteLine("Usage: Calibrate [PACKS [SEED]]");
    Console.Error.WriteLine("Simulates packs (default 2000) with stated truth in four studies, lets the analysis judge their logs, and prints how");
    Console.Error.WriteLine("near its figures come, how often its intervals hold the truth, what it finds and what it finds wrongly, as Markdown.");
    return 2;
}

int each = packs / 4;
Console.Out.NewLine = "\n";
Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{4 * each} simulated packs, seed {seed}.\n"));
Run(TenSessions.Run, TenSessions.Report);
Run(FourWeeks.Run, FourWeeks.Report);
Run(Causes.Run, Causes.Report);
Run(LongLife.Run, LongLife.Report);
return 0;

void Run<T>(Func<ulong, int, T> run, Func<IReadOnlyList<T>, string> report) =>
    Console.WriteLine(report([.. ParallelEnumerable.Range(0, each).AsOrdered().Select(number => run(seed, number))]));
