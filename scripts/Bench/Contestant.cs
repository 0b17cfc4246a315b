namespace PackCare.Bench;

/// <summary>A program that does the job being measured.</summary>
/// <param name="Name">What it is called in the table.</param>
/// <param name="Command">The executable.</param>
/// <param name="Arguments">Its arguments for an input and an output file.</param>
internal sealed record Contestant(string Name, string Command, Func<string, string, IReadOnlyList<string>> Arguments);
