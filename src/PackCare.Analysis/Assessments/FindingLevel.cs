namespace PackCare.Analysis.Assessments;

/// <summary>How grave a finding is; the gravest one sets the standing.</summary>
public enum FindingLevel
{
    /// <summary>Worth knowing; does not touch the standing.</summary>
    Note,

    /// <summary>Past the watch limit.</summary>
    Watch,

    /// <summary>Past the act limit.</summary>
    Retire,

    /// <summary>Do not charge or use.</summary>
    Stop,
}
