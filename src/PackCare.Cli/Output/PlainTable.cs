using Spectre.Console;

namespace PackCare.Cli.Output;

/// <summary>Tables without rules, which read the same on a terminal, in a pipe and to a screen reader.</summary>
internal static class PlainTable
{
    private const int Gap = 2;

    /// <summary>A table with these headings, its first columns kept on one line.</summary>
    /// <param name="unbroken">How many of the first columns are never wrapped.</param>
    /// <param name="headings">The headings.</param>
    public static Grid Make(int unbroken, params string[] headings)
    {
        Grid table = MakeBare(unbroken, headings.Length);
        table.AddRow([.. headings.Select(heading => Cell(heading, new Style(decoration: Decoration.Dim)))]);
        return table;
    }

    /// <summary>A table without headings.</summary>
    /// <param name="unbroken">How many of the first columns are never wrapped.</param>
    /// <param name="columns">How many columns.</param>
    public static Grid MakeBare(int unbroken, int columns)
    {
        var table = new Grid();
        for (int column = 0; column < columns; column++)
        {
            GridColumn made = new GridColumn().PadLeft(0).PadRight(column == columns - 1 ? 0 : Gap);
            table.AddColumn(column < unbroken ? made.NoWrap() : made);
        }

        return table;
    }

    /// <summary>A cell with text as it is.</summary>
    public static Text Cell(string text, Style? style = null) => new(Printable.OneLine(text), style ?? Style.Plain);
}
