using System.Globalization;
using PackCare.Bench;

if (args is ["import", ..] && Number(1, 1_000_000) is { } rows && Number(2, 5) is { } runs && args.Length <= 3)
{
    return await ImportBench.RunAsync(rows, runs);
}

if (args is ["report", ..] && Number(1, 60) is { } drawn && Number(2, 150) is { } of && Number(3, 5) is { } times && args.Length <= 4)
{
    return ReportBench.Run(drawn, of, times);
}

if (args is ["load", var folder, ..] && Number(2, 2000) is { } packs && Number(3, 300) is { } sessions && args.Length <= 4)
{
    return LoadBench.Run(folder, packs, sessions);
}

if (args is ["startup", ..] && Number(1, 41) is { } rounds && args.Length <= 2)
{
    return StartupBench.Run(rounds);
}

Console.Error.WriteLine("Usage: bench import [ROWS [RUNS]]");
Console.Error.WriteLine("  Imports an invented log of that many rows (1000000) that many times (5), side by side with general-purpose tools.");
Console.Error.WriteLine("       bench report [PACKS [SESSIONS [RUNS]]]");
Console.Error.WriteLine("  Draws the report of that many invented packs (60) with that many sessions each (150) that many times (5).");
Console.Error.WriteLine("       bench load FOLDER [PACKS [SESSIONS]]");
Console.Error.WriteLine("  Makes a fleet of that many packs (2000) with that many sessions each (300) in FOLDER, and measures as it grows; writes docs/load.svg.");
Console.Error.WriteLine("       bench startup [ROUNDS]");
Console.Error.WriteLine("  Lists the packs of a small history, in turns with Python reading the same rows from the same file, that many times (41).");
return 2;

int? Number(int at, int otherwise) =>
    at >= args.Length ? otherwise : int.TryParse(args[at], NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number > 0 ? number : null;
