using System.IO.Enumeration;
using PackCare.Core.Reading;

namespace PackCare.Cli.Importing;

/// <summary>Turns the paths of a command line into files, folders searched to the bottom, in a fixed order.</summary>
internal static class LogFinder
{
    /// <summary>Endings by which a log is known inside a folder; a file named outright may have any.</summary>
    public static readonly IReadOnlyList<string> Endings = [".csv", ".tsv", ".txt", ".log", ".gz", ".zip"];

    /// <summary>The code of a folder in which there is no log.</summary>
    public const string EmptyFolder = "empty-folder";

    /// <summary>The code of what is there and cannot be read.</summary>
    public const string Unreadable = "unreadable";

    /// <summary>Finds the files; what cannot be found or opened is a problem beside its path.</summary>
    public static IEnumerable<(LogFile File, InputProblem? Problem)> Find(IEnumerable<string> paths)
    {
        foreach (string path in paths)
        {
            var named = new LogFile(path, Path.GetFullPath(path));
            if (Directory.Exists(named.Path))
            {
                foreach ((LogFile, InputProblem?) found in Search(named))
                {
                    yield return found;
                }
            }
            else
            {
                yield return (named, File.Exists(named.Path) ? null : NotFound());
            }
        }
    }

    /// <summary>A refusal of a whole file. What was found may be a sentence of the system's, with its full stop.</summary>
    public static InputProblem Refusal(string code, string found, string advice) =>
        new(code, ProblemLevel.Refusal, null, null, found.TrimEnd('.'), advice);

    private static InputProblem NotFound() => Refusal("not-found", "there is no such file or folder", "check the path");

    // Links to folders are not followed, so that none leads round in a circle.
    private static FileSystemEnumerable<string> FilesIn(string folder) => new(
        folder,
        (ref FileSystemEntry entry) => entry.ToFullPath(),
        new EnumerationOptions { RecurseSubdirectories = true, IgnoreInaccessible = false, AttributesToSkip = FileAttributes.Hidden | FileAttributes.System })
    {
        ShouldIncludePredicate = (ref FileSystemEntry entry) => !entry.IsDirectory,
        ShouldRecursePredicate = (ref FileSystemEntry entry) => (entry.Attributes & FileAttributes.ReparsePoint) == 0,
    };

    private static IEnumerable<(LogFile File, InputProblem? Problem)> Search(LogFile folder)
    {
        List<string> files;
        InputProblem? problem = null;
        try
        {
            files = [.. FilesIn(folder.Path)
                .Where(file => Endings.Contains(Path.GetExtension(file), StringComparer.OrdinalIgnoreCase))
                .Order(StringComparer.Ordinal)];
            if (files.Count == 0)
            {
                problem = Refusal(EmptyFolder, $"there is no log ({string.Join(", ", Endings)}) in this folder", "name the folder or the files that hold your logs");
            }
        }
        catch (DirectoryNotFoundException)
        {
            // It went away since it was seen; a folder inside it that goes away meanwhile is passed over.
            files = [];
            problem = NotFound();
        }
        catch (Exception fault) when (fault is UnauthorizedAccessException or IOException)
        {
            files = [];
            problem = Refusal(Unreadable, "this folder cannot be read through: " + fault.Message, "check its permissions");
        }

        if (problem is not null)
        {
            yield return (folder, problem);
        }

        foreach (string file in files)
        {
            yield return (new LogFile(Path.Combine(folder.Shown, Path.GetRelativePath(folder.Path, file)), file), null);
        }
    }
}
