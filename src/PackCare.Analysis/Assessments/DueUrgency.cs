namespace PackCare.Analysis.Assessments;

/// <summary>How soon something needs doing, most urgent first.</summary>
public enum DueUrgency
{
    /// <summary>Take the pack out of use now.</summary>
    Stop,

    /// <summary>Past its time.</summary>
    Overdue,

    /// <summary>Due today.</summary>
    Due,

    /// <summary>Coming up, or worth planning.</summary>
    Plan,
}
