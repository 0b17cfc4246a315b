using System.Globalization;
using System.Text;
using PackCare.Core.Reading;
using PackCare.Core.Samples;

namespace PackCare.Import.Tests;

/// <summary>The invented logs of the demo, read without any setting and compared field by field with a plain split of the file.</summary>
public class SampleLogTests
{
    private static readonly string Folder = Find();

    public static TheoryData<string> Folders => [.. Directory.GetDirectories(Folder).Select(path => Path.GetFileName(path)!).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Folders))]
    public void Sample_logs_are_read_and_each_cell_voltage_is_the_one_in_the_file(string folder)
    {
        string[] files = [.. Directory.GetFiles(Path.Combine(Folder, folder), "*.csv").Order(StringComparer.Ordinal).Where((_, i) => i % 8 == 0)];
        Assert.NotEmpty(files);
        foreach (string file in files)
        {
            ReadResult result = Logs.ReadFile(file);

            Assert.False(result.Refused, $"{file}: {string.Join("; ", result.Problems)}");
            Assert.True(result.Ledger.Balances);
            Assert.Equal(result.Ledger.Samples, result.Sessions.Sum(session => session.Samples.Count));
            List<ColumnReading> cells = [.. result.Reading!.Columns.Where(column => column.Meaning == ColumnMeaning.CellVoltage).OrderBy(column => column.Cell)];
            Assert.Equal(result.Sessions.Max(session => session.Samples.CellCount), cells.Count);
            string[] lines = File.ReadAllLines(file, Encoding.Latin1);
            foreach (var session in result.Sessions)
            {
                foreach (ColumnReading cell in cells.Take(session.Samples.CellCount))
                {
                    decimal?[] read = [.. session.Samples[ChannelKey.Cell(cell.Cell!.Value)]!.ToDecimals()];
                    int line = session.FirstLine;
                    foreach (decimal? value in read)
                    {
                        string text = lines[line++ - 1].Split(result.Reading.Delimiter)[cell.Index - 1].Replace(',', '.');
                        decimal expected = decimal.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture) / (cell.Unit == "mV" ? 1000 : 1);
                        Assert.Equal(expected, value);
                    }
                }
            }
        }
    }

    private static string Find()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            string candidate = Path.Combine(folder.FullName, "sample-logs");
            if (Directory.Exists(candidate) && Directory.GetDirectories(candidate).Length > 0)
            {
                return candidate;
            }
        }

        throw new DirectoryNotFoundException("There is no sample-logs folder above the tests.");
    }
}
