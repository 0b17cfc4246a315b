using Spectre.Console;

namespace PackCare.Cli.Output;

/// <summary>Tables without rules, which read the same on a terminal, in a pipe and to a screen reader.</summary>
internal static class PlainTable
{
    /// <summary>A table with these headings.</summary>
    public static Table Make(params string[] headings)
    {
        Table table = new Table().NoBorder().Collapse();
        foreach (string heading in headings)
        {
            table.AddColumn(new TableColumn(new Text(heading, new Style(decoration: Decoration.Dim))).PadLeft(2).PadRight(0));
        }

        return table;
    }

    /// <summary>A cell with text as it is.</summary>
    public static Text Cell(string text, Style? style = null) => new(Printable.OneLine(text), style ?? Style.Plain);
}
