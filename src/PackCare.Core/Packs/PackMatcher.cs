using PackCare.Core.Units;

namespace PackCare.Core.Packs;

/// <summary>
/// Finds the pack that a log speaks of, from what the log or its file name calls it. What it measures (cell
/// count, charge) can only rule out or suggest, never assign.
/// </summary>
public static class PackMatcher
{
    // A coulomb count can exceed the rated capacity a little: generous ratings, charge lost as heat, sensor error.
    private const double MostChargeOverRated = 1.15;

    /// <summary>Matches one session.</summary>
    /// <param name="packs">All packs on record.</param>
    /// <param name="hint">What the log itself calls the pack, or null.</param>
    /// <param name="fileName">The file's name without folders.</param>
    /// <param name="cells">Cells in series that the log shows; 0 where it shows the pack only.</param>
    /// <param name="charge">Charge moved in the session, not negative, or null.</param>
    public static PackMatch Match(IReadOnlyList<Pack> packs, string? hint, string fileName, int cells, AmpereHours? charge)
    {
        List<Pack> named = hint is null ? NamedByFile(packs, fileName) : NamedBy(packs, hint);
        string source = hint is null ? "the file name" : "the log";
        if (named.Count == 1)
        {
            Pack pack = named[0];
            return cells == 0 || cells == pack.Details.Cells
                ? new PackMatch.Assigned(pack, $"{source} names it")
                : new PackMatch.Unassigned(
                    Suggest(packs, cells, charge),
                    $"{source} names {pack.Label}, but the log shows {cells} cells and {pack.Label} has {pack.Details.Cells}");
        }

        string why = named.Count > 1 ? $"{source} names several packs: {string.Join(", ", named.Select(pack => pack.Label))}"
            : hint is null ? "neither the log nor its file name says which pack it is"
            : $"the log calls it '{hint}', and no pack on record has that label";
        return new PackMatch.Unassigned(Suggest(packs, cells, charge), why);
    }

    private static List<Pack> Suggest(IReadOnlyList<Pack> packs, int cells, AmpereHours? charge) =>
    [
        .. packs
            .Where(pack => pack.Retirement is null && (cells == 0 || pack.Details.Cells == cells))
            .Where(pack => charge is not { } moved || pack.Details.RatedCapacity is not { } rated || moved <= rated * MostChargeOverRated)
            .OrderBy(pack => charge is { } moved && pack.Details.RatedCapacity is { } rated ? (rated - moved).Value : double.MaxValue)
            .ThenBy(pack => pack.Label, StringComparer.OrdinalIgnoreCase),
    ];

    private static List<Pack> NamedBy(IReadOnlyList<Pack> packs, string hint)
    {
        string wanted = string.Concat(Tokens(hint));
        return [.. packs.Where(pack => string.Concat(Tokens(pack.Label)) == wanted)];
    }

    private static List<Pack> NamedByFile(IReadOnlyList<Pack> packs, string fileName)
    {
        List<string> tokens = Tokens(Path.GetFileNameWithoutExtension(fileName));
        List<(Pack Pack, string Name)> found = [.. packs
            .Select(pack => (Pack: pack, Name: string.Concat(Tokens(pack.Label))))
            .Where(candidate => candidate.Name.Any(char.IsLetter) && HasRun(tokens, candidate.Name))];

        // "Heron 2" is meant where both "Heron" and "Heron 2" fit.
        return [.. found
            .Where(one => !found.Any(other => other.Name.Length > one.Name.Length && other.Name.StartsWith(one.Name, StringComparison.Ordinal)))
            .Select(one => one.Pack)];
    }

    private static bool HasRun(List<string> tokens, string name)
    {
        for (int first = 0; first < tokens.Count; first++)
        {
            string run = string.Empty;
            for (int last = first; last < tokens.Count && run.Length < name.Length; last++)
            {
                run += tokens[last];
            }

            if (run == name)
            {
                return true;
            }
        }

        return false;
    }

    private static List<string> Tokens(string text)
    {
        var tokens = new List<string>();
        int start = -1;
        for (int i = 0; i <= text.Length; i++)
        {
            bool inside = i < text.Length && char.IsLetterOrDigit(text[i]);
            if (inside && start < 0)
            {
                start = i;
            }
            else if (!inside && start >= 0)
            {
                tokens.Add(text[start..i].ToLowerInvariant());
                start = -1;
            }
        }

        return tokens;
    }
}
