namespace PackCare.Import.Meanings;

/// <summary>Tells the unit of a current by how far its steps move the cells: each has a resistance, and none has 50 µΩ or 5 Ω.</summary>
internal sealed class CellAnswer(FlowLog log)
{
    internal const double LeastCellOhms = 0.0002;
    private const double MostCellOhms = 3;

    /// <summary>The unit in which the step of the cell voltage over the step of the current is a resistance that cells have; null where both are, or neither.</summary>
    internal Unit? UnitOf(ColumnRole current, Flow flow)
    {
        if (flow.StepSquare == 0 || log.Voltages.Count == 0)
        {
            return null;
        }

        // Steps that contradict each other prove little: what they move the cells by, whichever way, is the most there can be.
        double ohms = Math.Abs(flow.StepProduct) / flow.StepSquare;
        double most = flow.StepProductSize / flow.StepSquare;
        double unseen = Unseen(current);
        bool steps = Math.Abs(flow.StepProduct) >= 0.5 * flow.StepProductSize;
        bool amperes = most + unseen > LeastCellOhms && (!steps || ohms - unseen < MostCellOhms);
        bool milliamperes = (most + unseen) * 1000 > LeastCellOhms && (!steps || (ohms - unseen) * 1000 < MostCellOhms);
        return amperes == milliamperes ? null : amperes ? Unit.Ampere : Unit.Milliampere;
    }

    /// <summary>Whether the current steps and no cell shows it, for the digits of the voltages are too coarse or the current is too small.</summary>
    internal bool IsUnseen(ColumnRole current, Flow flow) =>
        flow.StepSquare > 0 && log.Voltages.Count > 0 && flow.StepProductSize / flow.StepSquare < Unseen(current);

    /// <summary>Whether a current in A has steps that no cell answers: a step of 50 A that moves no cell by a millivolt was none, whatever the header says.</summary>
    internal bool IsUnanswered(ColumnRole current, Flow flow)
    {
        double unseen = Unseen(current);
        return flow.StepSquare > 0 && (Math.Abs(flow.StepProduct) / flow.StepSquare) + unseen < LeastCellOhms / 10;
    }

    /// <summary>Whether a current in mA has steps that cells answer too far: steps of 2 mA that move every cell by 50 mV, each the same way, were none, whatever the header says.</summary>
    internal bool IsOveranswered(ColumnRole current, Flow flow)
    {
        double unseen = Unseen(current) * 1000;
        return flow.StepSquare > 0 && Math.Abs(flow.StepProduct) >= 0.8 * flow.StepProductSize && (Math.Abs(flow.StepProduct) / flow.StepSquare * 1000) - (2 * unseen) > MostCellOhms;
    }

    // Volts for one of the current's unit that the digits of the voltages may hide.
    private double Unseen(ColumnRole current) => log.Voltages.Count == 0 ? double.PositiveInfinity : log.Voltages.Max(v => v.LastDigit) / current.Profile!.LargestMagnitude;
}
