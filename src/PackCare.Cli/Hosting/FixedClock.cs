namespace PackCare.Cli.Hosting;

/// <summary>A clock that stands still, for reproducible output (<c>--now</c>).</summary>
internal sealed class FixedClock(DateTimeOffset now) : TimeProvider
{
    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => now.ToUniversalTime();
}
