using PackCare.Analysis;
using PackCare.Analysis.Assessments;
using PackCare.Analysis.Digests;
using PackCare.Analysis.Limits;
using PackCare.Core.Packs;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Judges packs by the limits in force at a moment.</summary>
/// <param name="limits">The user's own limits.</param>
/// <param name="now">The moment.</param>
internal sealed class Assessor(LimitSettings limits, DateTimeOffset now)
{
    private const int BatchSize = 32;

    private readonly List<(long PackId, long Revision, string Content)> _new = [];

    /// <summary>The moment for which it judges.</summary>
    public DateTimeOffset Now => now;

    /// <summary>Judges one pack.</summary>
    public PackAssessment Assess(PackHistory history) =>
        PackAnalyzer.Analyze(history, now, limits.For(history.Pack.Label, history.Pack.Details.Chemistry));

    /// <summary>All packs in brief, in order of label. What was kept of earlier judgements is used where it still holds.</summary>
    public IReadOnlyList<PackBrief> Briefs(History history)
    {
        IReadOnlyList<PackWithDigest> packs = history.PacksWithDigests(DigestShelf.Name);
        var briefs = new PackBrief?[packs.Count];
        var stale = new List<Stale>();
        for (int i = 0; i < briefs.Length; i++)
        {
            (Pack pack, long revision, string? kept) = packs[i];
            PackDigest? digest = kept is null ? null : DigestShelf.Open(kept, pack.Id, revision, limits.Fingerprint(pack.Label));
            if (digest is not null && digest.HoldsAt(now))
            {
                briefs[i] = digest.At(pack, now);
            }
            else
            {
                // A look back does not cost the next look at today its kept results.
                stale.Add(new Stale(i, digest is null || now >= digest.From));
            }
        }

        if (stale.Count > 0)
        {
            JudgeAnew(history, packs, stale, briefs);
        }

        return [.. briefs.OfType<PackBrief>()];
    }

    private void JudgeAnew(History history, IReadOnlyList<PackWithDigest> packs, List<Stale> stale, PackBrief?[] briefs)
    {
        // A batch at a time, so that the records of a large fleet never stand in memory together.
        foreach (Stale[] batch in stale.Chunk(BatchSize))
        {
            foreach (((int at, bool keep), PackDigest digest) in batch.Zip(Judge([.. batch.Select(one => history.Load(packs[one.At].Pack))])))
            {
                Pack pack = packs[at].Pack;
                briefs[at] = digest.At(pack, now);
                if (keep && digest.HoldsAt(now))
                {
                    _new.Add((pack.Id, packs[at].Revision, DigestShelf.Seal(digest, pack.Id, packs[at].Revision, limits.Fingerprint(pack.Label))));
                }
            }
        }
    }

    /// <summary>Keeps what had to be judged anew, where the history can be written. Not inside a read.</summary>
    public void KeepWhatIsNew(History history)
    {
        if (_new.Count > 0)
        {
            history.TryKeepDigests(DigestShelf.Name, _new);
            _new.Clear();
        }
    }

    private PackDigest[] Judge(PackHistory[] loaded)
    {
        PackDigest Digest(PackHistory history) => PackAnalyzer.Digest(history, now, limits.For(history.Pack.Label, history.Pack.Details.Chemistry));
        return loaded.Length == 1 ? [Digest(loaded[0])] : [.. loaded.AsParallel().AsOrdered().Select(Digest)];
    }

    /// <summary>Judges packs, in the order given.</summary>
    public IReadOnlyList<PackAssessment> Assess(IReadOnlyList<PackHistory> histories) => [.. histories.AsParallel().AsOrdered().Select(Assess)];

    private sealed record Stale(int At, bool Keep);
}
