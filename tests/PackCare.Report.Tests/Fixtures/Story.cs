namespace PackCare.Report.Tests.Fixtures;

/// <summary>What is invented about a pack.</summary>
internal sealed record Story
{
    public required string Label { get; init; }

    public int Cells { get; init; } = 4;

    public double? RatedAh { get; init; } = 5;

    /// <summary>Charges on record, three weeks apart.</summary>
    public int Charges { get; init; } = 20;

    /// <summary>The cell that something is the matter with.</summary>
    public int OddCell { get; init; } = 3;

    /// <summary>By how much it falls behind at every charge, in millivolts.</summary>
    public double DriftMillivolts { get; init; }

    /// <summary>By how much it lies lower at rests between charges, in millivolts; it leaks where that is not 0.</summary>
    public double LeakMillivolts { get; init; }

    /// <summary>Its resistance at the end over that at the beginning.</summary>
    public double ResistanceGrowth { get; init; } = 1.05;

    /// <summary>Share of capacity lost in all.</summary>
    public double Fade { get; init; } = 0.03;

    /// <summary>Days it has been full now.</summary>
    public int FullDays { get; init; }

    public bool FullConfirmed { get; init; }

    public bool Swollen { get; init; }

    public bool Retired { get; init; }

    public int SamplesPerCharge { get; init; } = 600;
}
