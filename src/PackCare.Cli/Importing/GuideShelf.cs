using PackCare.Cli.Hosting;
using PackCare.Core.Reading;
using PackCare.Import;
using PackCare.Import.Guides;
using PackCare.Store;

namespace PackCare.Cli.Importing;

/// <summary>Reading guides: the one that was named, else those beside a log or beside the history that apply to it.</summary>
/// <param name="named">The guide that the user named, or null.</param>
/// <param name="historyFolder">The folder of the history, or null where there is none yet.</param>
/// <param name="kept">The guides that the history itself keeps.</param>
internal sealed class GuideShelf(ReadingGuide? named, string? historyFolder, IReadOnlyList<StoredGuide> kept)
{
    /// <summary>By this ending a file is known as a guide that may apply by itself.</summary>
    public const string Ending = ".guide.json";

    private readonly IReadOnlyList<(string Name, ReadingGuide? Guide, InputProblem? Problem)> _kept =
        [.. kept.Select(one => (one.Name, GuideFile.Read(one.Content, out InputProblem? problem), problem))];

    private readonly Dictionary<string, (IReadOnlyList<(string Path, ReadingGuide Guide)> Guides, InputProblem? Problem)> _folders = [];

    /// <summary>Reads a log, with a guide where one was named or applies.</summary>
    /// <returns>What was read; and a problem, for which the log is to be refused, where the guides themselves are no good.</returns>
    public (ReadResult Read, InputProblem? Problem) Read(Stream stream, LogSource source, string folder, ReadOptions options)
    {
        if (named is not null)
        {
            return (ReadFromStart(stream, source, options with { Guide = named }), null);
        }

        ReadResult plain = ReadFromStart(stream, source, options);
        var fitting = new List<(string Path, ReadingGuide Guide)>();
        foreach ((string name, ReadingGuide? guide, InputProblem? wrong) in _kept)
        {
            if (guide is null)
            {
                return (plain, wrong! with { Line = null, Column = null, Found = $"the guide {name} in the history: {wrong.Found}" });
            }

            if (guide.AppliesTo(source.Name, plain.Reading))
            {
                fitting.Add(($"{name} in the history", guide));
            }
        }

        foreach (string place in new[] { folder, historyFolder }.OfType<string>().Distinct())
        {
            (IReadOnlyList<(string Path, ReadingGuide Guide)> guides, InputProblem? problem) = Open(place);
            if (problem is not null)
            {
                return (plain, problem);
            }

            fitting.AddRange(guides.Where(one => one.Guide.AppliesTo(source.Name, plain.Reading)));
        }

        // The same guide may be kept in the history and lie beside the logs.
        return fitting.DistinctBy(one => GuideFile.Write(one.Guide with { Name = null })).ToList() switch
        {
            [] => (plain, null),
            [var only] => (ReadFromStart(stream, source, options with { Guide = only.Guide }), null),
            _ => (plain, new InputProblem(
                "several-guides",
                ProblemLevel.Refusal,
                null,
                null,
                "several reading guides apply to it: " + string.Join(", ", fitting.Select(one => one.Path)),
                "name one with --guide, or narrow what each applies to")),
        };
    }

    /// <summary>Reads a guide file that the user named; null, with the reason said, where it is no good.</summary>
    public static ReadingGuide? ReadFile(string path, Host host)
    {
        if (ReadFile(path, out InputProblem? wrong) is { } guide)
        {
            return guide;
        }

        host.Fail(ExitCode.Usage, $"{path}{(wrong!.Line is { } line ? $":{line}" : string.Empty)}: {wrong.Found}; {wrong.Advice}");
        return null;
    }

    private static ReadingGuide? ReadFile(string path, out InputProblem? problem)
    {
        try
        {
            return GuideFile.Read(File.ReadAllText(path), out problem);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            problem = LogFinder.Refusal("bad-guide", "the guide cannot be read: " + fault.Message, "check the path");
            return null;
        }
    }

    private static ReadResult ReadFromStart(Stream stream, LogSource source, ReadOptions options)
    {
        stream.Position = 0;
        return LogReader.Read(stream, source, options);
    }

    private (IReadOnlyList<(string Path, ReadingGuide Guide)> Guides, InputProblem? Problem) Open(string folder)
    {
        if (_folders.TryGetValue(folder, out (IReadOnlyList<(string Path, ReadingGuide Guide)> Guides, InputProblem? Problem) known))
        {
            return known;
        }

        var guides = new List<(string Path, ReadingGuide Guide)>();
        InputProblem? problem = null;
        foreach (string path in Directory.EnumerateFiles(folder, "*" + Ending).Order(StringComparer.Ordinal))
        {
            if (ReadFile(path, out InputProblem? wrong) is { } guide)
            {
                guides.Add((path, guide));
            }
            else
            {
                problem ??= wrong! with { Line = null, Column = null, Found = $"{path}{(wrong.Line is { } line ? $", line {line}" : string.Empty)}: {wrong.Found}" };
            }
        }

        return _folders[folder] = (guides, problem);
    }
}
