namespace PackCare.Analysis.Assessments;

/// <summary>A pack's overall state, in order of gravity. None of them means that a pack is free of danger.</summary>
public enum Standing
{
    /// <summary>Nothing on record speaks against the pack.</summary>
    Sound,

    /// <summary>Too little is on record to tell.</summary>
    Unknown,

    /// <summary>Something has passed its watch limit.</summary>
    Watch,

    /// <summary>Something has passed its act limit: plan to take the pack out of use.</summary>
    Retire,

    /// <summary>Do not charge or use the pack.</summary>
    Stop,
}
