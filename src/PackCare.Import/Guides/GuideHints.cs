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
        GuideColumn? said = guide?.Columns.FirstOrDefault(c => (c.Index is null || c.Index == column.Index + 1) && (c.Header is null || string.Equals(c.Header, shown, StringComparison.Ordinal) || string.Equals(c.Header, column.Header, StringComparison.Ordinal)));
        HeaderHint byHeader = HeaderWords.Read(headersAreLetters ? null : column.Header, column.UnitField);
        return said is null ? byHeader : Of(said, byHeader);
    }

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
            ColumnMeaning.Current => Quantity.Current,
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
        int? number = said.Meaning is ColumnMeaning.CellVoltages ? byHeader.Number : said.Cell;
        return new HeaderHint(
            quantity,
            unit == Unit.None ? Unit.None : unit,
            said.Meaning is ColumnMeaning.CellVoltage or ColumnMeaning.CellVoltages or ColumnMeaning.CellResistance or ColumnMeaning.CellNumber,
            said.Meaning is ColumnMeaning.PackVoltage or ColumnMeaning.PackLabel,
            number,
            said.Meaning == ColumnMeaning.ChargeOut,
            said.Meaning == ColumnMeaning.ChargeIn,
            said.Meaning == ColumnMeaning.Ignored,
            false);
    }
}
