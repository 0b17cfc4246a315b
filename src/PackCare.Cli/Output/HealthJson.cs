using PackCare.Store;

namespace PackCare.Cli.Output;

/// <summary>What an examination found, for programs.</summary>
internal static class HealthJson
{
    /// <summary>The report on a file.</summary>
    public static object Of(string file, HealthReport health) => new
    {
        File = file,
        health.Sound,
        health.Packs,
        health.Sessions,
        health.Blocks,
        Complaints = health.Complaints.Select(Of),
        Repaired = health.Repaired.Select(Of),
        health.KeptAside,
    };

    private static object Of(Complaint complaint) => new { complaint.Kind, complaint.Text };
}
