namespace PackCare.Store;

/// <summary>A history cannot be used; the message is one clear sentence that says what to do.</summary>
public sealed class HistoryException : Exception
{
    /// <summary>States the fault.</summary>
    public HistoryException(HistoryFault fault, string message, Exception? inner = null)
        : base(message, inner) => Fault = fault;

    /// <summary>Why.</summary>
    public HistoryFault Fault { get; }
}
