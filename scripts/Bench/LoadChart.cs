using System.Globalization;
using System.Text;

namespace PackCare.Bench;

/// <summary>Draws times against the size of a history, as SVG.</summary>
internal static class LoadChart
{
    private const double Left = 64;
    private const double Right = 560;
    private const double Top = 24;
    private const double Bottom = 300;

    private static readonly double[] _steps = [50, 100, 200, 500, 1000, 2000, 5000, 10_000];

    // Told apart by their dashes and by the word at their end, not by colour alone.
    private static readonly (string Name, string Stroke, string Dash, Func<LoadPoint, double> Of)[] _lines =
    [
        ("due", "#8a3b12", "", point => point.Due),
        ("list", "#1b5e84", "7 3", point => point.List),
        ("show", "#3d6b21", "2 3", point => point.Show),
        ("import one more file", "#5b3a86", "9 3 2 3", point => point.Import),
    ];

    /// <summary>The chart.</summary>
    public static string Draw(IReadOnlyList<LoadPoint> points)
    {
        double most = _lines.Max(line => points.Max(line.Of));
        double step = _steps.First(one => most / one <= 7);
        double highest = Math.Ceiling(most / step) * step;
        double widest = points[^1].Sessions;
        double X(double sessions) => Left + ((Right - Left) * sessions / widest);
        double Y(double milliseconds) => Bottom - ((Bottom - Top) * milliseconds / highest);
        var svg = new StringBuilder();
        svg.Append("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 720 350\" font-family=\"sans-serif\" font-size=\"13\" role=\"img\">\n");
        svg.Append("<title>Time of the whole process against sessions in the history</title>\n<rect width=\"720\" height=\"350\" fill=\"#ffffff\"/>\n");
        for (double at = 0; at <= highest; at += step)
        {
            svg.Append(CultureInfo.InvariantCulture, $"<path d=\"M{Left} {Y(at):F1}H{Right}\" stroke=\"#d8d8d8\"/><text x=\"{Left - 8}\" y=\"{Y(at) + 4:F1}\" text-anchor=\"end\">{at:F0}</text>\n");
        }

        for (int part = 0; part <= 4; part++)
        {
            double sessions = widest * part / 4;
            svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{X(sessions):F1}\" y=\"{Bottom + 20}\" text-anchor=\"middle\">{sessions:F0}</text>\n");
        }

        svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{(Left + Right) / 2}\" y=\"{Bottom + 40}\" text-anchor=\"middle\">sessions in the history</text>\n<text x=\"8\" y=\"14\">ms, whole process, median</text>\n");
        var labels = new List<double>();
        foreach ((string name, string stroke, string dash, Func<LoadPoint, double> of) in _lines.OrderByDescending(line => line.Of(points[^1])))
        {
            string path = string.Join('L', points.Select(point => string.Create(CultureInfo.InvariantCulture, $"{X(point.Sessions):F1} {Y(of(point)):F1}")));
            svg.Append(CultureInfo.InvariantCulture, $"<path d=\"M{path}\" fill=\"none\" stroke=\"{stroke}\" stroke-width=\"2\"{(dash.Length > 0 ? $" stroke-dasharray=\"{dash}\"" : string.Empty)}/>\n");
            double label = Math.Max(Y(of(points[^1])) + 4, labels.Count == 0 ? 0 : labels[^1] + 15);
            labels.Add(label);
            svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{Right + 8}\" y=\"{label:F1}\" fill=\"{stroke}\">{name}</text>\n");
        }

        return svg.Append("</svg>\n").ToString();
    }
}
