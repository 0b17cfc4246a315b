using PackCare.Cli.Hosting;
using PackCare.Store;

namespace PackCare.Cli.Output;

/// <summary>Says what an examination found.</summary>
internal static class HealthText
{
    /// <summary>Writes what is wrong, a line each, to the error stream.</summary>
    /// <returns>Whether nothing is.</returns>
    public static bool WriteComplaints(Host host, HealthReport health)
    {
        foreach (Complaint complaint in health.Complaints)
        {
            host.Error.WriteLine(Printable.OneLine($"{Words.Of(complaint.Kind)}: {complaint.Text}"));
        }

        return health.Sound;
    }
}
