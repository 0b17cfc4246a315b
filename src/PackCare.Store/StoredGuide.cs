namespace PackCare.Store;

/// <summary>A reading guide that is kept in the history and applies by itself to the logs it names.</summary>
/// <param name="Name">Its name, unique in the history, 1 to 200 characters.</param>
/// <param name="Content">The guide as JSON, in the form that guide files have.</param>
public sealed record StoredGuide(string Name, string Content);
