namespace PackCare.Analysis.Records;

/// <summary>Where a rest reading comes from.</summary>
internal enum RestSource
{
    /// <summary>Before current flowed in a session.</summary>
    SessionStart,

    /// <summary>After current had stopped in a session.</summary>
    SessionEnd,

    /// <summary>A spot check.</summary>
    SpotCheck,
}
