using PackCare.SampleLogs;

if (args is ["--help" or "-h", ..])
{
    Console.WriteLine("Usage: MakeSampleLogs [DIRECTORY] | --truth");
    Console.WriteLine("Writes the invented sample logs (default: sample-logs beside the solution), removing files of an older set.");
    Console.WriteLine("--truth prints the true figures behind them as the table of docs/demo.md.");
    return 0;
}

if (args is ["--truth"])
{
    Console.Write(TruthTable.Markdown(SampleSet.Build()));
    return 0;
}

var target = args is [var given] ? given : Path.Combine(Repository.Root(), "sample-logs");
var files = SampleSet.Generate();
if (Directory.Exists(target))
{
    foreach (var old in Directory.EnumerateFiles(target, "*.*", SearchOption.AllDirectories).Where(file => Path.GetExtension(file) is ".csv" or ".json"))
    {
        File.Delete(old);
    }
}

foreach (var file in files)
{
    var path = Path.Combine(target, file.Path);
    Directory.CreateDirectory(Path.GetDirectoryName(path)!);
    File.WriteAllBytes(path, file.Bytes);
}

Console.WriteLine($"{files.Count} files, {files.Sum(file => file.Bytes.LongLength) / 1e6:F1} MB, in {target}");
return 0;
