using PackCare.Report.Html;
using ScottPlot;

namespace PackCare.Report.Charts;

/// <summary>Renders panels.</summary>
internal static class Drawing
{
    /// <summary>A panel as an SVG that stands inside a page.</summary>
    public static Markup Svg(Panel panel, ChartSize size, string question, string answer)
    {
        var ink = new Ink(coded: true);
        using Sheet sheet = panel.Draw(new Frame(size, ink, null));
        string name = panel.Heading is { } heading ? $"{question} {heading}" : question;
        return SvgFinish.Finish(sheet.Finish().GetSvgXml(size.Width, sheet.Height), ink, name, answer, "plot " + size.Name);
    }

    /// <summary>A panel as a PNG that stands alone, in the colours of the light page.</summary>
    public static byte[] Png(Panel panel, ChartSize size, string question)
    {
        var ink = new Ink(coded: false);
        string heading = panel.Heading is { } part ? $"{question} {part}" : question;
        using Sheet sheet = panel.Draw(new Frame(size, ink, heading));
        Plot plot = sheet.Finish();
        plot.ScaleFactor = 2;
        return plot.GetImage(size.Width * 2, sheet.Height * 2).GetImageBytes(ImageFormat.Png);
    }
}
