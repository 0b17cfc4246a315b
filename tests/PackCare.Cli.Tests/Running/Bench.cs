namespace PackCare.Cli.Tests.Running;

/// <summary>A folder of its own with a history, thrown away at the end.</summary>
public sealed class Bench : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("packcare-test-");

    /// <summary>The folder.</summary>
    public string Folder => _folder.FullName;

    /// <summary>The history file.</summary>
    public string History => Path.Combine(Folder, "history.db");

    /// <summary>Environment of every run.</summary>
    public Dictionary<string, string?> Environment { get; } = [];

    /// <summary>Runs a command on the history, its clock standing at the start of November 2026.</summary>
    public Outcome Run(params string[] arguments) =>
        PackCareProcess.Run(Folder, Environment, [.. arguments, "--history", History, "--now", "2026-11-01T12:00Z"]);

    /// <summary>Writes a file into the folder.</summary>
    public string Write(string name, string text)
    {
        string path = Path.Combine(Folder, name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllText(path, text);
        return path;
    }

    /// <summary>Writes a file of bytes into the folder.</summary>
    public string Write(string name, byte[] bytes)
    {
        string path = Path.Combine(Folder, name);
        File.WriteAllBytes(path, bytes);
        return path;
    }

    /// <inheritdoc/>
    public void Dispose() => _folder.Delete(recursive: true);
}
