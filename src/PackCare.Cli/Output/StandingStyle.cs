using PackCare.Analysis.Assessments;
using Spectre.Console;

namespace PackCare.Cli.Output;

/// <summary>How words of urgency look on a terminal; the word itself always says it.</summary>
internal static class StandingStyle
{
    private static readonly Style _grave = new(decoration: Decoration.Bold | Decoration.Invert);
    private static readonly Style _notable = new(decoration: Decoration.Bold);

    /// <summary>The look of a pack's standing.</summary>
    public static Style Of(PackBrief pack) => pack.Pack.Retirement is not null ? Style.Plain : pack.Standing switch
    {
        Standing.Stop => _grave,
        Standing.Retire or Standing.Watch => _notable,
        _ => Style.Plain,
    };

    /// <summary>The look of an urgency.</summary>
    public static Style Of(DueUrgency urgency) => urgency switch
    {
        DueUrgency.Stop => _grave,
        DueUrgency.Overdue => _notable,
        _ => Style.Plain,
    };
}
