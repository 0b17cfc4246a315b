using System.Globalization;
using System.Text.RegularExpressions;

namespace PackCare.Report;

/// <summary>How stickers lie on a sheet of A4 (210 x 297 mm): a grid in the middle of the sheet.</summary>
/// <param name="Columns">Stickers beside each other, 1 or more.</param>
/// <param name="Rows">Stickers below each other, 1 or more.</param>
/// <param name="WidthMillimetres">Width of one sticker, 30 or more.</param>
/// <param name="HeightMillimetres">Height of one sticker, 18 or more.</param>
/// <param name="GapMillimetres">Free room between columns; rows adjoin. 0 or more.</param>
public sealed partial record SheetFormat(int Columns, int Rows, double WidthMillimetres, double HeightMillimetres, double GapMillimetres)
{
    /// <summary>Width of A4 in millimetres (ISO 216).</summary>
    public const double PaperWidthMillimetres = 210;

    /// <summary>Height of A4 in millimetres (ISO 216).</summary>
    public const double PaperHeightMillimetres = 297;

    private const double LeastWidthMillimetres = 30;
    private const double LeastHeightMillimetres = 18;

    /// <summary>Formats that are sold everywhere, by their short names.</summary>
    public static IReadOnlyDictionary<string, SheetFormat> Known { get; } = new Dictionary<string, SheetFormat>(StringComparer.OrdinalIgnoreCase)
    {
        ["3x7"] = new(3, 7, 63.5, 38.1, 2.5),
        ["3x8"] = new(3, 8, 70, 37, 0),
        ["2x7"] = new(2, 7, 99.1, 38.1, 2.5),
        ["5x13"] = new(5, 13, 38.1, 21.2, 2.5),
    };

    /// <summary>Stickers on one sheet.</summary>
    public int Places => Columns * Rows;

    /// <summary>Free room at the left and right of the sheet in millimetres.</summary>
    public double LeftMillimetres => (PaperWidthMillimetres - (Columns * WidthMillimetres) - ((Columns - 1) * GapMillimetres)) / 2;

    /// <summary>Free room at the top and bottom of the sheet in millimetres.</summary>
    public double TopMillimetres => (PaperHeightMillimetres - (Rows * HeightMillimetres)) / 2;

    /// <summary>
    /// Reads a short name, or any other grid as COLUMNSxROWS:WIDTHxHEIGHT, with +GAP where columns are apart; lengths in
    /// millimetres with a point: 4x10:48.5x25.4, 3x7:63.5x38.1+2.5.
    /// </summary>
    /// <returns>The format; null where the text is none, or one that does not fit A4 or holds no readable sticker.</returns>
    public static SheetFormat? Parse(string text)
    {
        if (Known.TryGetValue(text, out SheetFormat? known))
        {
            return known;
        }

        Match match = Grid().Match(text);
        if (!match.Success)
        {
            return null;
        }

        double Length(string group) => match.Groups[group].Success ? double.Parse(match.Groups[group].Value, CultureInfo.InvariantCulture) : 0;
        var format = new SheetFormat((int)Length("columns"), (int)Length("rows"), Length("width"), Length("height"), Length("gap"));
        bool holds = format.Places > 0 && format.WidthMillimetres >= LeastWidthMillimetres && format.HeightMillimetres >= LeastHeightMillimetres;
        return holds && format.LeftMillimetres >= 0 && format.TopMillimetres >= 0 ? format : null;
    }

    [GeneratedRegex(@"^(?<columns>\d{1,2})x(?<rows>\d{1,2}):(?<width>\d{1,3}(\.\d{1,2})?)x(?<height>\d{1,3}(\.\d{1,2})?)(\+(?<gap>\d{1,2}(\.\d{1,2})?))?$", RegexOptions.IgnoreCase)]
    private static partial Regex Grid();
}
