using System.Text;
using PackCare.Report.Charts;
using PackCare.Report.Data;

namespace PackCare.Report;

/// <summary>Gives every number behind every chart, for spreadsheets and programs.</summary>
public static class ReportData
{
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);

    /// <summary>
    /// Writes a CSV file a table (UTF-8, comma, point, units in the column names, nothing where there is no figure)
    /// and one a pack with the samples of its last charge in the documented plain layout. Text that a spreadsheet
    /// program would take for a formula gets an apostrophe in front.
    /// </summary>
    /// <param name="input">What the report is made of.</param>
    /// <param name="folder">An existing folder; files of the same names are replaced.</param>
    /// <returns>Paths of the written files.</returns>
    /// <exception cref="IOException">A file cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">A file may not be written.</exception>
    public static IReadOnlyList<string> WriteCsv(ReportInput input, string folder)
    {
        (IReadOnlyList<PackView> views, IReadOnlyList<string> names) = ReportWriter.Prepare(input);
        var paths = new List<string>();
        foreach (DataSheet sheet in Tables.Of(input, views))
        {
            paths.Add(WriteOne(Path.Combine(folder, sheet.Name + ".csv"), sheet));
        }

        for (int at = 0; at < views.Count; at++)
        {
            if (Tables.LastCharge(views[at]) is { } samples)
            {
                paths.Add(WriteOne(Path.Combine(folder, $"{names[at]}-{samples.Name}.csv"), samples));
            }
        }

        return paths;
    }

    /// <summary>
    /// Writes one JSON document with the same tables as arrays of objects, and under "lastCharges" the samples of each
    /// pack's last charge. Keys are the column names in camel case; null where there is no figure.
    /// </summary>
    /// <param name="input">What the report is made of.</param>
    /// <param name="stream">Where to write; it is left open.</param>
    /// <param name="files">Paths to name under "files", or null for none.</param>
    public static void WriteJson(ReportInput input, Stream stream, IReadOnlyList<string>? files = null)
    {
        (IReadOnlyList<PackView> views, _) = ReportWriter.Prepare(input);
        JsonText.Write(stream, files ?? [], input, Tables.Of(input, views), [.. views.Select(view => (view.Label, Tables.LastCharge(view)))]);
    }

    private static string WriteOne(string path, DataSheet sheet)
    {
        using var writer = new StreamWriter(path, append: false, Utf8);
        CsvText.Write(writer, sheet);
        return path;
    }
}
