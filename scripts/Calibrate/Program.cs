using System.Globalization;
using PackCare.Calibrate;

int packs = 2000;
ulong seed = 1;
string? only = args.Length > 2 ? args[2] : null;
if (args.Length > 3
    || (args.Length > 0 && (!int.TryParse(args[0], NumberStyles.None, CultureInfo.InvariantCulture, out packs) || packs < 4))
    || (args.Length > 1 && !ulong.TryParse(args[1], NumberStyles.None, CultureInfo.InvariantCulture, out seed))
    || only is not (null or "ten" or "weeks" or "causes" or "year"))
{
    Console.Error.WriteLine("Usage: Calibrate [PACKS [SEED [ten|weeks|causes|year]]]");
    Console.Error.WriteLine("Simulates packs (default 2000) with stated truth in four studies, lets the analysis judge their logs, and prints how");
    Console.Error.WriteLine("near its figures come, how often its intervals hold the truth, what it finds and what it finds wrongly, as Markdown.\nWith the name of a study only that one, on so many packs.");
    return 2;
}

int each = only is null ? packs / 4 : packs;
Console.Out.NewLine = "\n";
Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{(only is null ? 4 * each : each)} simulated packs, seed {seed}.\n"));
Run("ten", TenSessions.Run, TenSessions.Report);
Run("weeks", FourWeeks.Run, FourWeeks.Report);
Run("causes", Causes.Run, Causes.Report);
Run("year", LongLife.Run, LongLife.Report);
return 0;

void Run<T>(string name, Func<ulong, int, T> run, Func<IReadOnlyList<T>, string> report)
{
    if (only is null || only == name)
    {
        Console.WriteLine(report([.. ParallelEnumerable.Range(0, each).AsOrdered().Select(number => run(seed, number))]));
    }
}
