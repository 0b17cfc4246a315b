using System.Globalization;
using System.Text;
using QRCoder;

namespace PackCare.Report.Labels;

/// <summary>A QR code (ISO/IEC 18004) without its quiet zone.</summary>
internal sealed class QrSymbol
{
    /// <summary>Width of the quiet zone around it, in modules (ISO/IEC 18004).</summary>
    public const int QuietModules = 4;

    private readonly bool[,] _dark;

    private QrSymbol(bool[,] dark) => _dark = dark;

    /// <summary>Modules along a side.</summary>
    public int Size => _dark.GetLength(0);

    /// <summary>Whether a module is dark.</summary>
    public bool IsDark(int row, int column) => _dark[row, column];

    /// <summary>
    /// Encodes a text with as much error correction as leaves modules of the given size. What is not ASCII is marked as
    /// UTF-8, so that no reader has to guess.
    /// </summary>
    /// <param name="text">The text, not empty.</param>
    /// <param name="side">Length of a side, in any unit.</param>
    /// <param name="leastModule">The size of a module, in that unit, below which error correction is given up for larger ones.</param>
    public static QrSymbol Of(string text, double side, double leastModule)
    {
        QrSymbol? symbol = null;
        foreach (QRCodeGenerator.ECCLevel level in new[] { QRCodeGenerator.ECCLevel.Q, QRCodeGenerator.ECCLevel.M, QRCodeGenerator.ECCLevel.L })
        {
            symbol = Encode(text, level);
            if (side / symbol.Size >= leastModule)
            {
                break;
            }
        }

        return symbol!;
    }

    /// <summary>Its dark modules as SVG path data.</summary>
    /// <param name="left">Left edge.</param>
    /// <param name="top">Top edge.</param>
    /// <param name="module">Size of a module.</param>
    public string ToPath(double left, double top, double module)
    {
        var path = new StringBuilder();
        for (int row = 0; row < Size; row++)
        {
            for (int from = 0; from < Size;)
            {
                if (!_dark[row, from])
                {
                    from++;
                    continue;
                }

                int to = from;
                while (to < Size && _dark[row, to])
                {
                    to++;
                }

                double width = (to - from) * module;
                path.Append(CultureInfo.InvariantCulture, $"M{left + (from * module):0.##} {top + (row * module):0.##}h{width:0.##}v{module:0.##}h{-width:0.##}z");
                from = to;
            }
        }

        return path.ToString();
    }

    private static QrSymbol Encode(string text, QRCodeGenerator.ECCLevel level)
    {
        bool ascii = text.All(char.IsAscii);
        using QRCodeData data = QRCodeGenerator.GenerateQrCode(text, level, forceUtf8: !ascii, utf8BOM: false, ascii ? QRCodeGenerator.EciMode.Default : QRCodeGenerator.EciMode.Utf8);

        // The library's matrix has the quiet zone around it.
        int size = data.ModuleMatrix.Count - (2 * QuietModules);
        bool[,] dark = new bool[size, size];
        for (int row = 0; row < size; row++)
        {
            for (int column = 0; column < size; column++)
            {
                dark[row, column] = data.ModuleMatrix[row + QuietModules][column + QuietModules];
            }
        }

        return new QrSymbol(dark);
    }
}
