namespace PackCare.Cli.Output;

/// <summary>Tables without rules, which read the same on a terminal, in a pipe and to a screen reader.</summary>
/// <remarks>Laid out here and not by a library, since this is on the way of every start of the program.</remarks>
internal sealed class PlainTable
{
    private const int Gap = 2;
    private const int Narrowest = 8;

    private readonly bool[] _wraps;
    private readonly List<TextCell[]> _rows = [];

    private PlainTable(int[] wrapped, int columns)
    {
        _wraps = new bool[columns];
        foreach (int column in wrapped)
        {
            _wraps[column] = true;
        }
    }

    /// <summary>A table with these headings.</summary>
    /// <param name="wrapped">Positions, from 0, of the columns whose text may be broken into lines; the others keep theirs.</param>
    /// <param name="headings">The headings.</param>
    public static PlainTable Make(int[] wrapped, params string[] headings)
    {
        PlainTable table = MakeBare(wrapped, headings.Length);
        table.AddRow([.. headings.Select(heading => Cell(heading, Look.Faint))]);
        return table;
    }

    /// <summary>A table without headings.</summary>
    /// <param name="wrapped">Positions, from 0, of the columns whose text may be broken into lines.</param>
    /// <param name="columns">How many columns.</param>
    public static PlainTable MakeBare(int[] wrapped, int columns) => new(wrapped, columns);

    /// <summary>A cell with text as it is.</summary>
    public static TextCell Cell(string text, Look look = Look.Plain) => new(Printable.OneLine(text), look);

    /// <summary>Adds a row.</summary>
    public void AddRow(params TextCell[] cells) => _rows.Add(cells);

    /// <summary>Lays the table out.</summary>
    /// <param name="width">How many characters a line may have.</param>
    /// <param name="paint">Gives a piece of text its look.</param>
    public IEnumerable<string> Lines(int width, Func<string, Look, string> paint)
    {
        int[] widths = Widths(width);
        var columns = new List<string>[widths.Length];
        foreach (TextCell[] row in _rows)
        {
            int height = 1;
            for (int column = 0; column < widths.Length; column++)
            {
                int room = Math.Max(1, widths[column] - (column == widths.Length - 1 ? 0 : Gap));
                columns[column] = TextWrap.Lines(row[column].Text, room);
                height = Math.Max(height, columns[column].Count);
            }

            for (int line = 0; line < height; line++)
            {
                yield return Line(row, columns, widths, line, paint);
            }
        }
    }

    private static string Line(TextCell[] row, List<string>[] columns, int[] widths, int line, Func<string, Look, string> paint)
    {
        var text = new System.Text.StringBuilder();
        int owed = 0;
        for (int column = 0; column < columns.Length; column++)
        {
            string piece = line < columns[column].Count ? columns[column][line] : string.Empty;
            if (piece.Length > 0)
            {
                text.Append(' ', owed).Append(paint(piece, row[column].Look));
                owed = 0;
            }

            owed += Math.Max(piece.Length > 0 && column < columns.Length - 1 ? 1 : 0, widths[column] - TextWrap.Width(piece));
        }

        return text.ToString();
    }

    // What is too wide is taken from the widest of the columns that may be broken, again and again. Where that is not enough, lines
    // are longer than asked for: a figure that is cut in two is worse.
    private int[] Widths(int width)
    {
        var widths = new int[_wraps.Length];
        foreach (TextCell[] row in _rows)
        {
            for (int column = 0; column < widths.Length; column++)
            {
                widths[column] = Math.Max(widths[column], TextWrap.Width(row[column].Text) + (column == widths.Length - 1 ? 0 : Gap));
            }
        }

        while (widths.Sum() - width is > 0 and var excess)
        {
            int[] breakable = [.. Enumerable.Range(0, widths.Length).Where(column => _wraps[column])];
            int widest = breakable.Length == 0 ? 0 : breakable.Max(column => widths[column]);
            int next = Math.Max(Narrowest, breakable.Where(column => widths[column] < widest).Select(column => widths[column]).DefaultIfEmpty(0).Max());
            if (widest <= next)
            {
                break;
            }

            Take(widths, [.. breakable.Where(column => widths[column] == widest)], excess, Math.Min(excess, widest - next));
        }

        return widths;
    }

    private static void Take(int[] widths, int[] columns, int excess, int atMost)
    {
        int sharers = columns.Length;
        foreach (int column in columns)
        {
            int share = Math.Min(Math.Min(atMost, widths[column] - 1), excess / sharers);
            widths[column] -= share;
            excess -= share;
            sharers--;
        }
    }
}
