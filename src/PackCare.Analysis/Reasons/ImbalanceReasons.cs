using PackCare.Analysis.Assessments;
using PackCare.Analysis.Wording;

namespace PackCare.Analysis.Reasons;

/// <summary>What the cells tell against each other.</summary>
internal static class ImbalanceReasons
{
    /// <summary>The paragraphs.</summary>
    public static IEnumerable<string> Of(ImbalanceAssessment imbalance)
    {
        if (imbalance is { RestSpreadMillivolts: { } spread, Measured: { } measured })
        {
            yield return $"At the latest rest, {Say.Day(measured)}, the cells stood {Say.Number(spread, "0")} mV apart.";
        }

        string cell = imbalance.CauseCell is { } number ? $" in cell {number}" : "";
        yield return imbalance.Cause switch
        {
            ImbalanceCause.None => "Cells: no cause to name, they do not differ beyond the limits.",
            ImbalanceCause.Undetermined => $"Cells: they differ{cell}, and the evidence does not decide why.",
            ImbalanceCause.ChargeOffset => $"Cells: the cause is a charge offset{cell}; a balance charge mends it.",
            ImbalanceCause.Capacity => $"Cells: the cause is a smaller capacity{cell}; balancing does not mend it.",
            ImbalanceCause.SelfDischarge => $"Cells: the cause is self-discharge{cell}; balancing hides it for a while and does not mend it.",
            _ => $"Cells: the cause is a higher resistance{cell}; it shows under load and not at rest.",
        };
        foreach (string sentence in imbalance.Evidence)
        {
            yield return sentence;
        }
    }
}
