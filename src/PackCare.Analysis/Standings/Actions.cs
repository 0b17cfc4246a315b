namespace PackCare.Analysis.Standings;

/// <summary>What to do, in sentences that defer to the maker and to local rules.</summary>
internal static class Actions
{
    /// <summary>For a pack that is not to be charged or used.</summary>
    public const string Stop =
        "Do not charge or use it. Keep it outdoors or in a fire-resistant place away from anything that burns, and dispose of it by your local rules for damaged lithium batteries; ask the maker or a collection point before moving it far.";

    /// <summary>For a pack past an act limit.</summary>
    public const string Retire =
        "Plan to take it out of use. Follow the maker's instructions; for disposal, discharge and hand it in as your local rules ask.";

    /// <summary>For cells that stand apart.</summary>
    public const string Balance = "Give it one slow balance charge to the end within the maker's limits, attended, and let it rest an hour before the next reading.";
}
