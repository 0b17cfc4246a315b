using PackCare.Analysis.Assessments;
using PackCare.Analysis.FullCharge;
using PackCare.Analysis.Standings;
using PackCare.Core.Packs;

namespace PackCare.Analysis.Digests;

/// <summary>
/// A judgement in a form that can be kept. Until something new is recorded about the pack, or some limit of time is
/// crossed, it gives the brief of any moment exactly as judging the pack anew would; how long a pack has been full or
/// unread is counted anew for each moment.
/// </summary>
public sealed class PackDigest
{
    private readonly DigestContent _content;

    internal PackDigest(DigestContent content) => _content = content;

    /// <summary>From when on it holds.</summary>
    public DateTimeOffset From => _content.From;

    /// <summary>Until when it holds, that moment not included.</summary>
    public DateTimeOffset Until => _content.Until;

    /// <summary>Reads what <see cref="ToText"/> wrote; null where it is something else.</summary>
    public static PackDigest? Parse(string text)
    {
        try
        {
            return new PackDigest(DigestText.Read(text));
        }
        catch (Exception fault) when (fault is FormatException or OverflowException)
        {
            return null;
        }
    }

    /// <summary>As text that <see cref="Parse"/> reads.</summary>
    public string ToText() => DigestText.Write(_content);

    /// <summary>Whether it holds at a moment.</summary>
    public bool HoldsAt(DateTimeOffset now) => now >= From && now < Until;

    /// <summary>The pack in brief at a moment at which this holds.</summary>
    /// <param name="pack">The pack that it was made of.</param>
    /// <param name="now">The moment.</param>
    public PackBrief At(Pack pack, DateTimeOffset now)
    {
        Finding[] findings = Findings(now);
        return new PackBrief(
            pack,
            StandingRule.Of(findings, _content.JudgedSessions),
            findings,
            _content.RestSpreadMillivolts,
            _content.HealthPercent,
            _content.ResistanceRatio,
            FullChargeJudge.Current(_content.Passing.SpellsAt(now)),
            _content.LastRecord);
    }

    /// <summary>All findings at a moment, gravest first.</summary>
    internal Finding[] Findings(DateTimeOffset now) =>
        [.. _content.Before
            .Concat(KeepingFindings.Of(_content.Passing, _content.Limits, now))
            .Concat(_content.After)
            .Select(UrgencyRule.Complete)
            .OrderByDescending(finding => (int)finding.Level)];
}
