using PackCare.Core.Reading;
using PackCare.Import.Meanings;
using PackCare.Import.Tables;

namespace PackCare.Import.Guides;

/// <summary>Puts what a guide says in the place of what a header says.</summary>
internal static class GuideHints
{
    /// <summary>What is said of a column: by the guide if it names it, else by its header.</summary>
    internal static HeaderHint Of(RawColumn column, ReadingGuide? guide, string? shown, bool headersAreLetters)
    {
        GuideColumn? said = guide?.Columns.FirstOrDefault(one => Names(one, column, shown));
        HeaderHint byHeader = HeaderWords.Read(headersAreLetters ? null : column.Header, column.UnitField);
        return said is null ? byHeader : Of(said, byHeader);
    }

    /// <summary>Refuses a log of which a guide names a column that is not there, or one column twice.</summary>
    internal static void Check(LogColumns columns)
    {
        foreach (GuideColumn said in columns.Guide?.Columns ?? [])
        {
            string name = said.Header is null ? $"column {said.Index}" : said.Index is null ? $"a column headed \"{Refusals.Snippet(said.Header)}\"" : $"column {said.Index} headed \"{Refusals.Snippet(said.Header)}\"";
            // Several numbers in one field are one column under one header.
            if (!Array.Exists(columns.Roles, role => Names(said, role.Column, role.Header) || Names(said, role.Column, columns.Table.Frame.Headers[role.Column.Index])))
            {
                Refuse(columns, said, $"{name}, which the reading guide names and the log does not have");
                return;
            }

            if (columns.Guide!.Columns.FirstOrDefault(other => other != said && other.Cell is not null && other.Cell == said.Cell && other.Meaning == said.Meaning) is not null)
            {
                Refuse(columns, said, $"{name}, where the reading guide gives cell {said.Cell} twice");
                return;
            }

            ColumnRole? twice = columns.Roles.FirstOrDefault(role => Names(said, role.Column, role.Header) && columns.Guide.Columns.Any(other => other != said && (other.Meaning != said.Meaning || other.Unit != said.Unit) && Names(other, role.Column, role.Header)));
            if (twice is not null)
            {
                Refuse(columns, said, $"{name}, of which the reading guide says two things");
                return;
            }
        }
    }

    private static void Refuse(LogColumns columns, GuideColumn said, string found) =>
        columns.Problems.Add(Refusals.Refuse("guide-column", null, said.Index, found, "correct the guide's columns, or leave that one out of it"));

    private static bool Names(GuideColumn said, RawColumn column, string? shown) =>
        (said.Index is null || said.Index == column.Index + 1) && (said.Header is null || string.Equals(said.Header, shown, StringComparison.Ordinal) || string.Equals(said.Header, column.Header, StringComparison.Ordinal));

    private static HeaderHint Of(GuideColumn said, HeaderHint byHeader)
    {
        Unit unit = said.Unit is null ? Unit.None : UnitMarks.Parse(said.Unit);
        Quantity quantity = said.Meaning switch
        {
            ColumnMeaning.ElapsedTime => Quantity.Elapsed,
            ColumnMeaning.Timestamp => Quantity.Timestamp,
            ColumnMeaning.Date => Quantity.Date,
            ColumnMeaning.ClockTime => Quantity.Clock,
            ColumnMeaning.PackVoltage or ColumnMeaning.CellVoltage or ColumnMeaning.CellVoltages => Quantity.Voltage,
            ColumnMeaning.CellNumber => Quantity.CellNumber,
            ColumnMeaning.Current or ColumnMeaning.CurrentOut => Quantity.Current,
            ColumnMeaning.Charge or ColumnMeaning.ChargeIn or ColumnMeaning.ChargeOut => Quantity.Charge,
            ColumnMeaning.Energy => Quantity.Energy,
            ColumnMeaning.Power => Quantity.Power,
            ColumnMeaning.Temperature => Quantity.Temperature,
            ColumnMeaning.CellResistance => Quantity.Resistance,
            ColumnMeaning.Mode => Quantity.Mode,
            ColumnMeaning.PackLabel => Quantity.PackLabel,
            ColumnMeaning.SessionNumber => Quantity.Session,
            _ => Quantity.Other,
        };

        // The parts of a list keep the number that their place in the field gives them.
        int? number = said.Meaning is ColumnMeaning.CellVoltages ? byHeader.Number : said.Cell ?? (said.Meaning is ColumnMeaning.CellVoltage or ColumnMeaning.CellResistance ? byHeader.Number : null);
        return new HeaderHint(
            quantity,
            unit == Unit.None ? Unit.None : unit,
            said.Meaning is ColumnMeaning.CellVoltage or ColumnMeaning.CellVoltages or ColumnMeaning.CellResistance or ColumnMeaning.CellNumber,
            said.Meaning is ColumnMeaning.PackVoltage or ColumnMeaning.PackLabel,
            number,
            said.Meaning is ColumnMeaning.ChargeOut or ColumnMeaning.CurrentOut,
            said.Meaning == ColumnMeaning.ChargeIn,
            said.Meaning == ColumnMeaning.Ignored,
            false)
        {
            IsGuided = true,
        };
    }
}
