using PackCare.Report.Look;
using ScottPlot;
using ScottPlot.TickGenerators;
using SkiaSharp;

namespace PackCare.Report.Charts;

/// <summary>One plot in the manner of this report: quiet axes, round figures, everything labelled where it is.</summary>
internal sealed class Sheet : IDisposable
{
    /// <summary>Room for labels at line ends, in pixels.</summary>
    public const float LabelRoom = 74;

    private const float TopRoom = 14;
    private const float RightRoom = 10;
    private const float BottomRoom = 26;
    private readonly Frame _frame;
    private readonly Plot _plot = new();
    private readonly List<Action<Pen>> _late = [];

    static Sheet() => FontShelf.Register();

    /// <summary>Prepares a plot.</summary>
    /// <param name="frame">What to draw into.</param>
    /// <param name="height">Height in pixels, without the heading.</param>
    /// <param name="x">The horizontal axis.</param>
    /// <param name="y">The vertical axis.</param>
    /// <param name="rightRoom">Room inside the data area, at its right, for labels at line ends; in pixels.</param>
    public Sheet(Frame frame, int height, Span x, Span y, float rightRoom = 0)
    {
        _frame = frame;
        float headingRoom = frame.Heading is null ? 0 : 30;
        Height = height + (int)headingRoom;
        float dataWidth = frame.Size.Width - frame.Size.Left - RightRoom;
        X = x;
        Y = y;
        Full = new Span(x.Low, x.Low + (x.Length * dataWidth / (dataWidth - rightRoom)));

        _plot.Font.Set(FontShelf.Name);
        _plot.FigureBackground.Color = frame.Ink.Coded ? Colors.Transparent : frame.Ink.Of(Tones.Card);
        _plot.DataBackground.Color = Colors.Transparent;
        _plot.Layout.Fixed(new PixelPadding(frame.Size.Left, RightRoom, BottomRoom, TopRoom + headingRoom));
        _plot.Axes.SetLimits(Full.Low, Full.High, y.Low, y.High);
        _plot.Axes.Title.IsVisible = frame.Heading is not null;
        _plot.Axes.Right.IsVisible = false;
        _plot.Axes.Top.IsVisible = false;
        Quiet(_plot.Axes.Left, frameWidth: 0);
        Quiet(_plot.Axes.Bottom, frameWidth: 1);
        _plot.Grid.XAxisStyle.IsVisible = false;
        _plot.Grid.MajorLineColor = frame.Ink.Of(Tones.Grid);
        _plot.Grid.MajorLineWidth = 1;
        Draw(pen => pen.Begin());
        if (frame.Heading is { } heading)
        {
            _plot.Axes.Title.Label.Text = heading;
            _plot.Axes.Title.Label.FontName = FontShelf.Name;
            _plot.Axes.Title.Label.FontSize = 15;
            _plot.Axes.Title.Label.Bold = false;
            _plot.Axes.Title.Label.OffsetY = -TopRoom;
            _plot.Axes.Title.Label.ForeColor = frame.Ink.Of(Tones.Ink);
        }
    }

    public Span X { get; }

    public Span Y { get; }

    /// <summary>The horizontal axis with the room for labels.</summary>
    public Span Full { get; }

    public int Height { get; }

    public float FontSize => _frame.Size.FontSize;

    /// <summary>The finished plot. Words lie above everything else, whenever they were written.</summary>
    public Plot Finish()
    {
        foreach (Action<Pen> words in _late)
        {
            Draw(words);
        }

        _late.Clear();
        return _plot;
    }

    public void Dispose() => _plot.Dispose();

    /// <summary>Marks the horizontal axis; a mark whose label would stick out of the drawing is left out.</summary>
    public void MarksX(IEnumerable<AxisMark> marks)
    {
        float width = _frame.Size.Width - _frame.Size.Left - RightRoom;
        _plot.Axes.Bottom.TickGenerator = Manual(marks.Where(mark =>
        {
            double at = _frame.Size.Left + ((mark.At - Full.Low) / Full.Length * width);
            float half = FontShelf.Width(mark.Label, FontSize) / 2;
            return at - half >= 0 && at + half <= _frame.Size.Width;
        }));
    }

    public void MarksY(IEnumerable<AxisMark> marks) => _plot.Axes.Left.TickGenerator = Manual(marks);

    public void HideGrid() => _plot.HideGrid();

    /// <summary>Leaves axes and grid away and fills the drawing but for a rim.</summary>
    public void Bare()
    {
        _plot.Layout.Fixed(new PixelPadding(2, 6, 2, 2));
        _plot.HideAxesAndGrid();
    }

    /// <summary>Writes words that lie above everything else, on a ground that keeps lines from crossing them.</summary>
    public void Words(Func<Pen, (string Text, float X, float Y, SKTextAlign Align)> where, Tone tone) => _late.Add(pen =>
    {
        (string text, float x, float y, SKTextAlign align) = where(pen);
        pen.Words(text, x, y, FontSize - 1, tone, align);
    });

    public void Draw(Action<Pen> draw) => _plot.PlottableList.Add(new Layer(draw, _frame.Ink));

    /// <summary>Fills between two lines; both are cut at the axis' ends.</summary>
    public void Band(IReadOnlyList<double> xs, IReadOnlyList<double> low, IReadOnlyList<double> high, Tone tone, double opacity) => Draw(pen =>
    {
        var path = new Trace();
        for (int i = 0; i < xs.Count; i++)
        {
            AddPoint(path, i == 0, pen.X(xs[i]), pen.Y(Y.Clamp(high[i])));
        }

        for (int i = xs.Count - 1; i >= 0; i--)
        {
            path.LineTo(pen.X(xs[i]), pen.Y(Y.Clamp(low[i])));
        }

        path.Close();
        pen.Fill(path, tone, opacity);
    });

    /// <summary>A line from point to point, broken where a value is missing (NaN), and cut where it leaves the vertical axis.</summary>
    public void Line(IReadOnlyList<double> xs, IReadOnlyList<double> ys, Stroke stroke) => Draw(pen =>
    {
        var path = new Trace();
        foreach ((double x, double y, bool start) in Cut(xs, ys, Y))
        {
            AddPoint(path, start, pen.X(x), pen.Y(y));
        }

        pen.Draw(path, stroke);
    });

    /// <summary>The points of a line inside a span of values, with those where it enters and leaves; a line along the edge would show values that are not there.</summary>
    internal static IEnumerable<(double X, double Y, bool Start)> Cut(IReadOnlyList<double> xs, IReadOnlyList<double> ys, Span span)
    {
        bool start = true;
        for (int i = 0; i < xs.Count; i++)
        {
            if (!double.IsFinite(xs[i]) || !double.IsFinite(ys[i]))
            {
                start = true;
                continue;
            }

            bool joined = i > 0 && double.IsFinite(xs[i - 1]) && double.IsFinite(ys[i - 1]);
            if (joined && !span.Holds(ys[i - 1]) && span.Clamp(ys[i]) != span.Clamp(ys[i - 1]))
            {
                yield return (Crossing(i, span.Clamp(ys[i - 1])), span.Clamp(ys[i - 1]), true);
                start = false;
            }

            if (span.Holds(ys[i]))
            {
                yield return (xs[i], ys[i], start);
                start = false;
            }
            else
            {
                if (joined && span.Clamp(ys[i]) != span.Clamp(ys[i - 1]))
                {
                    yield return (Crossing(i, span.Clamp(ys[i])), span.Clamp(ys[i]), start);
                }

                start = true;
            }
        }

        double Crossing(int i, double level) => xs[i - 1] + ((xs[i] - xs[i - 1]) * (level - ys[i - 1]) / (ys[i] - ys[i - 1]));
    }

    /// <summary>Points, all in one shape.</summary>
    public void Points(IReadOnlyList<double> xs, IReadOnlyList<double> ys, Mark mark, Tone tone, bool filled, float radius) => Draw(pen =>
    {
        var path = new Trace();
        for (int i = 0; i < xs.Count; i++)
        {
            if (double.IsFinite(xs[i]) && double.IsFinite(ys[i]) && Y.Holds(ys[i]))
            {
                Shape(path, mark, pen.X(xs[i]), pen.Y(ys[i]), radius);
            }
        }

        if (path.IsEmpty)
        {
            return;
        }

        pen.Fill(path, filled && mark != Mark.Cross ? tone : Tones.Card);
        pen.Draw(path, new Stroke(tone, filled ? 1.2 : 1.3));
    });

    /// <summary>Upright bars from low to high.</summary>
    public void Bars(IReadOnlyList<double> xs, IReadOnlyList<double> low, IReadOnlyList<double> high, Stroke stroke) => Draw(pen =>
    {
        var path = new Trace();
        for (int i = 0; i < xs.Count; i++)
        {
            if (!double.IsFinite(low[i]) || !double.IsFinite(high[i]))
            {
                continue;
            }

            float x = pen.X(xs[i]);
            float bottom = pen.Y(Y.Clamp(low[i]));
            float top = pen.Y(Y.Clamp(high[i]));
            path.MoveTo(x, bottom);
            path.LineTo(x, top);
            if (Y.Holds(low[i]))
            {
                path.MoveTo(x - 3, bottom);
                path.LineTo(x + 3, bottom);
            }

            if (Y.Holds(high[i]))
            {
                path.MoveTo(x - 3, top);
                path.LineTo(x + 3, top);
            }
        }

        pen.Draw(path, stroke);
    });

    /// <summary>A limit. Its teeth point to the side that is past it; one that asks for action is heavier.</summary>
    /// <param name="at">Where it lies on the vertical axis; nothing is drawn outside it.</param>
    /// <param name="pastIsAbove">Which side is past it.</param>
    /// <param name="strong">Whether it is the act limit.</param>
    /// <param name="label">What it is.</param>
    public void Limit(double at, bool pastIsAbove, bool strong, string label)
    {
        if (!Y.Holds(at))
        {
            return;
        }

        Draw(pen =>
        {
            float y = pen.Y(at);
            float tooth = (pastIsAbove ? -1 : 1) * (strong ? 5 : 3.5f);
            var path = new Trace();
            path.MoveTo(pen.Data.Left, y);
            path.LineTo(pen.Data.Right, y);
            for (float x = pen.Data.Left + 4; x < pen.Data.Right - 3; x += strong ? 9 : 18)
            {
                path.MoveTo(x, y);
                path.LineTo(x + 3.5f, y + tooth);
            }

            pen.Draw(path, new Stroke(Tones.Ink, strong ? 1.7 : 1));
        });
        Words(
            pen =>
            {
                float y = pen.Y(at);
                bool beyond = Math.Abs(pen.Y(pastIsAbove ? Y.High : Y.Low) - y) > FontSize + 6;
                return (label, pen.Data.Left + 4, y + ((pastIsAbove == beyond ? -1 : 1) * ((FontSize * 0.62f) + (beyond ? 5 : 1))), SKTextAlign.Left);
            },
            Tones.Ink);
    }

    /// <summary>A plain level line with a label, for instance zero.</summary>
    public void Level(double at) => Draw(pen => pen.Line(pen.Data.Left, pen.Y(at), pen.X(X.High), pen.Y(at), new Stroke(Tones.Muted, 1)));

    /// <summary>Labels at line ends, moved apart where they would cover each other, each led back to its line.</summary>
    public void EndLabels(IReadOnlyList<EndLabel> labels) => _late.Add(pen =>
    {
        float gap = FontSize + 1;
        List<EndLabel> shown = Gather(labels, (Y.Low - Y.High) * gap / (pen.Data.Top - pen.Data.Bottom));
        float[] ys = Spread([.. shown.Select(label => pen.Y(Y.Clamp(label.Y)))], gap, pen.Data.Top + (gap / 2), pen.Data.Bottom - (gap / 2));
        float textX = pen.X(X.High) + 16;
        for (int i = 0; i < shown.Count; i++)
        {
            float endX = pen.X(shown[i].X) + 5;
            float endY = pen.Y(Y.Clamp(shown[i].Y));
            var lead = new Trace();
            lead.MoveTo(endX, endY);
            lead.LineTo(Math.Max(endX, textX - 10), endY);
            lead.LineTo(textX - 3, ys[i]);
            pen.Draw(lead, new Stroke(Tones.Muted, 0.7));
            pen.Text(shown[i].Text, textX, ys[i], FontSize, shown[i].Strong ? Tones.Ink : Tones.Muted);
        }
    });

    /// <summary>Names lines that end so close together that their labels would cover each other in one label, from three such lines on.</summary>
    /// <param name="labels">The labels.</param>
    /// <param name="gap">The least distance of two labels, on the vertical axis.</param>
    /// <returns>Labels from the top down.</returns>
    internal static List<EndLabel> Gather(IReadOnlyList<EndLabel> labels, double gap)
    {
        var gathered = new List<EndLabel>(labels.Where(label => label.Strong));
        EndLabel[] others = [.. labels.Where(label => !label.Strong && double.IsFinite(label.Y)).OrderByDescending(label => label.Y)];
        for (int from = 0; from < others.Length;)
        {
            int to = from;
            while (to + 1 < others.Length && others[to].Y - others[to + 1].Y < gap)
            {
                to++;
            }

            ArraySegment<EndLabel> close = new(others, from, to - from + 1);
            if (close.Count < 3)
            {
                gathered.AddRange(close);
            }
            else
            {
                string all = string.Join(' ', close.Select(label => label.Text).Order(StringComparer.Ordinal));
                string text = all.Length <= 9 ? all : $"{close.Count.ToString(System.Globalization.CultureInfo.InvariantCulture)} cells";
                gathered.Add(new EndLabel(close.Max(label => label.X), close.Average(label => label.Y), text, Strong: false));
            }

            from = to + 1;
        }

        return [.. gathered.OrderByDescending(label => label.Y)];
    }

    /// <summary>Moves places apart until they are a gap from each other, as little as possible, within bounds.</summary>
    /// <param name="wanted">Places in ascending order.</param>
    /// <param name="gap">The least distance.</param>
    /// <param name="low">Lower bound.</param>
    /// <param name="high">Upper bound.</param>
    internal static float[] Spread(float[] wanted, float gap, float low, float high)
    {
        float[] at = [.. wanted.Select(value => Math.Clamp(value, low, high))];
        for (int i = 1; i < at.Length; i++)
        {
            at[i] = Math.Max(at[i], at[i - 1] + gap);
        }

        for (int i = at.Length - 1; i >= 0; i--)
        {
            float most = i == at.Length - 1 ? high : at[i + 1] - gap;
            at[i] = Math.Min(at[i], most);
        }

        return at;
    }

    internal static void Shape(Trace path, Mark mark, float x, float y, float r)
    {
        switch (mark)
        {
            case Mark.Circle:
                path.Circle(x, y, r);
                break;
            case Mark.Square:
                path.Rect(x - (r * 0.9f), y - (r * 0.9f), x + (r * 0.9f), y + (r * 0.9f));
                break;
            case Mark.Triangle:
                path.Polygon((x, y - (r * 1.2f)), (x + (r * 1.1f), y + (r * 0.8f)), (x - (r * 1.1f), y + (r * 0.8f)));
                break;
            case Mark.Diamond:
                path.Polygon((x, y - (r * 1.3f)), (x + (r * 1.3f), y), (x, y + (r * 1.3f)), (x - (r * 1.3f), y));
                break;
            case Mark.Wedge:
                path.Polygon((x, y + (r * 1.2f)), (x + (r * 1.1f), y - (r * 0.8f)), (x - (r * 1.1f), y - (r * 0.8f)));
                break;
            default:
                path.MoveTo(x - r, y - r);
                path.LineTo(x + r, y + r);
                path.MoveTo(x - r, y + r);
                path.LineTo(x + r, y - r);
                break;
        }
    }

    private static void AddPoint(Trace path, bool start, float x, float y)
    {
        if (start)
        {
            path.MoveTo(x, y);
        }
        else
        {
            path.LineTo(x, y);
        }
    }

    private static NumericManual Manual(IEnumerable<AxisMark> marks) => new([.. marks.Select(mark => Tick.Major(mark.At, mark.Label))]);

    private void Quiet(IAxis axis, float frameWidth)
    {
        axis.FrameLineStyle.Width = frameWidth;
        axis.FrameLineStyle.Color = _frame.Ink.Of(Tones.Muted);
        axis.MajorTickStyle.Length = frameWidth > 0 ? 4 : 0;
        axis.MajorTickStyle.Width = frameWidth;
        axis.MajorTickStyle.Color = _frame.Ink.Of(Tones.Muted);
        axis.MinorTickStyle.Length = 0;
        axis.MinorTickStyle.Width = 0;
        axis.TickLabelStyle.ForeColor = _frame.Ink.Of(Tones.Muted);
        axis.TickLabelStyle.FontName = FontShelf.Name;
        axis.TickLabelStyle.FontSize = _frame.Size.FontSize;
        axis.TickGenerator = Manual([]);
    }
}
