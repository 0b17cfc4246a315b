using System.Globalization;
using PackCare.BigLog;

if (args is not [var count, var path] || !long.TryParse(count, NumberStyles.None, CultureInfo.InvariantCulture, out var rows) || rows < 1)
{
    Console.Error.WriteLine("Usage: MakeBigLog ROWS FILE");
    Console.Error.WriteLine("Writes an invented log of a 6S pack that is charged and discharged without end: one row a second, 11 columns,");
    Console.Error.WriteLine("about 68 MB a million rows. The same number of rows gives the same bytes. For measuring speed and memory.");
    return 2;
}

await using var file = new FileStream(path, FileMode.Create, FileAccess.Write, FileShare.None, bufferSize: 1 << 20);
EnduranceLog.Write(file, rows);
Console.WriteLine($"{rows} rows, {file.Position / 1e6:F1} MB, in {path}");
return 0;
