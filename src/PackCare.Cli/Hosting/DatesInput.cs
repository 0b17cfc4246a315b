using PackCare.Report;

namespace PackCare.Cli.Hosting;

/// <summary>Finds the order in which the user wants dates on pages.</summary>
internal static class DatesInput
{
    /// <summary>The variable that names it.</summary>
    public const string Variable = "PACKCARE_DATES";

    /// <summary>The option, else the variable, else the year first; null, with the reason said, where it is none that is known.</summary>
    public static DateOrder? Read(string? option, Host host)
    {
        string? name = option ?? host.Variable(Variable);
        switch (name?.ToLowerInvariant())
        {
            case null or "iso":
                return DateOrder.YearFirst;
            case "dmy":
                return DateOrder.DayFirst;
            case "mdy":
                return DateOrder.MonthFirst;
            default:
                host.Fail(ExitCode.Usage, $"{(option is null ? Variable : "--dates")} '{name}' is not an order of dates; write iso (2026-03-04), dmy (4 Mar 2026) or mdy (Mar 4, 2026).");
                return null;
        }
    }
}
