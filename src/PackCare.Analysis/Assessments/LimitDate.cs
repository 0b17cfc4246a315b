namespace PackCare.Analysis.Assessments;

/// <summary>When a trend reaches its limit.</summary>
public abstract record LimitDate
{
    private LimitDate()
    {
    }

    /// <summary>It is past the limit already.</summary>
    public sealed record Passed : LimitDate;

    /// <summary>It will get there.</summary>
    /// <param name="Expected">The best single date.</param>
    /// <param name="Low">The earliest date of the 95 % interval.</param>
    /// <param name="High">The latest date of the interval; null where the slope may be none at all.</param>
    /// <param name="Count">How many readings the trend rests on.</param>
    public sealed record Ahead(DateTimeOffset Expected, DateTimeOffset Low, DateTimeOffset? High, int Count) : LimitDate;

    /// <summary>Not within the horizon, as far as the trend tells.</summary>
    /// <param name="Years">The horizon in years.</param>
    /// <param name="Count">How many readings the trend rests on.</param>
    public sealed record NotWithin(int Years, int Count) : LimitDate;

    /// <summary>The trend cannot tell.</summary>
    /// <param name="Reason">What is missing, in plain words.</param>
    public sealed record TooLittleData(string Reason) : LimitDate;
}
