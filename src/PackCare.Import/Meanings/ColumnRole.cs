using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>What one column is taken for, as it takes shape.</summary>
internal sealed class ColumnRole(RawColumn column, string? header, HeaderHint hint, NumberProfile? profile)
{
    private IReadOnlyList<SampleBlock>? _replaced;
    private NumberProfile? _replacedProfile;

    private FirstBlock? _firstBlock;

    // 0 until it is known: asked for by several threads, each of which may find it out.
    private int _digitsAtOnce;

    internal RawColumn Column => column;

    internal string? Header => header;

    internal HeaderHint Hint { get; set; } = hint;

    /// <summary>Figures of a column of numbers; null for others.</summary>
    internal NumberProfile? Profile => _replacedProfile ?? profile;

    /// <summary>The values as they count: the column's own, or what replaced them.</summary>
    internal IReadOnlyList<SampleBlock> Values => _replaced ?? column.Values;

    /// <summary>
    /// The first block's values in the column's own unit, NaN where there was no reading. Many checks look at these, so that they are restored once and kept for
    /// as long as neither values nor unit change: whoever asks shares them, and must not write to them.
    /// </summary>
    internal double[] FirstValues
    {
        get
        {
            FirstBlock? known = _firstBlock;
            if (known is null || known.Of != Values[0] || known.Factor != Factor)
            {
                _firstBlock = known = new FirstBlock(Values[0], Factor, LogColumns.Values(this, 0, Factor));
            }

            return known.Numbers;
        }
    }

    /// <summary>Lets go of the values: they were taken on into sessions, and a long log's are not to be held twice.</summary>
    /// <param name="budget">What they kept uncompressed is given back to it.</param>
    internal void Release(PackedBudget budget)
    {
        budget.GiveBack(column.Values);
        _replaced = null;
        _firstBlock = null;
        column.Release();
    }

    /// <summary>The smallest step that the numbers take, with their factor: that of their last digit, or several where a coarse meter is written finely (3.58, 3.60, 3.64).</summary>
    internal double LastDigit
    {
        get
        {
            int known = _digitsAtOnce;
            if (known == 0)
            {
                _digitsAtOnce = known = CoarseDigits.Of(this);
            }

            return Factor * Math.Pow(10, -Column.MaxDecimals) * known;
        }
    }

    internal ColumnMeaning Meaning { get; set; } = ColumnMeaning.Ignored;

    internal Unit Unit { get; set; }

    /// <summary>Cell or sensor number from 1.</summary>
    internal int? Number { get; set; }

    internal string Why { get; set; } = "nothing in header or content tells what it is";

    /// <summary>Whether the values are stored with their sign turned round.</summary>
    internal bool Negated { get; set; }

    /// <summary>Whether modes or counters already gave the values their sign.</summary>
    internal bool HasProvedSign { get; set; }

    /// <summary>Whether anything depends on it.</summary>
    internal bool IsUsed => Meaning != ColumnMeaning.Ignored;

    /// <summary>Puts other values in place of the column's own: signs by mode, one counter less another.</summary>
    internal void Replace(IReadOnlyList<SampleBlock> values)
    {
        _replaced = values;
        _replacedProfile = NumberProfile.Of(values);
    }

    internal double Factor => UnitMarks.Factor(Unit);

    internal void Take(ColumnMeaning meaning, Unit unit, int? number, string why) => (Meaning, Unit, Number, Why) = (meaning, unit, number, why);

    internal ColumnReading ToReading() => new(column.Index + 1, header, Meaning, UnitMarks.Symbol(Unit), Number, Said());

    // Where a guide or the layout stands for a header, the reason says so.
    private string Said()
    {
        const string ByHeader = "its header names ";
        return Hint.IsGuided && Hint.IsDerived && Meaning == ColumnMeaning.Ignored ? "the reading guide leaves it out"
            : Hint.IsGuided ? Why.Replace(ByHeader, "the reading guide names ", StringComparison.Ordinal)
            : header is null ? Why.Replace(ByHeader, "in rows of one cell each it can only be ", StringComparison.Ordinal)
            : Why;
    }

    private sealed record FirstBlock(SampleBlock Of, double Factor, double[] Numbers);
}
