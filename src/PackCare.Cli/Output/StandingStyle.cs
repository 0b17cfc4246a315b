using PackCare.Analysis.Assessments;

namespace PackCare.Cli.Output;

/// <summary>How words of urgency look on a terminal; the word itself always says it.</summary>
internal static class StandingStyle
{
    /// <summary>The look of a pack's standing.</summary>
    public static Look Of(PackBrief pack) => pack.Pack.Retirement is not null ? Look.Plain : pack.Standing switch
    {
        Standing.Stop => Look.Grave,
        Standing.Retire or Standing.Watch => Look.Bold,
        _ => Look.Plain,
    };

    /// <summary>The look of an urgency.</summary>
    public static Look Of(DueUrgency urgency) => urgency switch
    {
        DueUrgency.Stop => Look.Grave,
        DueUrgency.Overdue => Look.Bold,
        _ => Look.Plain,
    };
}
