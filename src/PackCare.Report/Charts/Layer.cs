using ScottPlot;

namespace PackCare.Report.Charts;

/// <summary>A plottable that draws by a function; the plot supplies axes, layout and order.</summary>
/// <param name="draw">Draws in pixels through the pen it is given.</param>
/// <param name="ink">The colours of the drawing.</param>
internal sealed class Layer(Action<Pen> draw, Ink ink) : IPlottable
{
    public bool IsVisible { get; set; } = true;

    public IAxes Axes { get; set; } = new Axes();

    public IEnumerable<LegendItem> LegendItems => [];

    // Limits are always set by the sheet, never found from its layers.
    public AxisLimits GetAxisLimits() => AxisLimits.NoLimits;

    public void Render(RenderPack rp) => draw(new Pen(rp, Axes, ink));
}
