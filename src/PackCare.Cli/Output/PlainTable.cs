using Spectre.Console;

namespace PackCare.Cli.Output;

/// <summary>Tables without rules, which read the same on a terminal, in a pipe and to a screen reader.</summary>
internal static class PlainTable
{
    private const int Gap = 2;

    /// <summary>A table with these headings.</summary>
    /// <param name="wrapped">Positions, from 0, of the columns whose text may be broken into lines; the others keep theirs.</param>
    /// <param name="headings">The headings.</param>
    public static Grid Make(int[] wrapped, params string[] headings)
    {
        Grid table = MakeBare(wrapped, headings.Length);
        table.AddRow([.. headings.Select(heading => Cell(heading, new Style(decoration: Decoration.Dim)))]);
        return table;
    }

    /// <summary>A table without headings.</summary>
    /// <param name="wrapped">Positions, from 0, of the columns whose text may be broken into lines.</param>
    /// <param name="columns">How many columns.</param>
    public static Grid MakeBare(int[] wrapped, int columns)
    {
        var table = new Grid();
        for (int column = 0; column < columns; column++)
        {
            GridColumn made = new GridColumn().PadLeft(0).PadRight(column == columns - 1 ? 0 : Gap);
            table.AddColumn(wrapped.Contains(column) ? made : made.NoWrap());
        }

        return table;
    }

    /// <summary>A cell with text as it is.</summary>
    public static Text Cell(string text, Style? style = null) => new(Printable.OneLine(text), style ?? Style.Plain);
}
