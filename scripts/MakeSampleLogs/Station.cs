using System.Text;
using PackCare.Simulation;

namespace PackCare.SampleLogs;

/// <summary>An invented place where packs are logged: its instrument and its way of writing files.</summary>
/// <param name="Folder">Folder of its files.</param>
/// <param name="Instrument">How it sees a pack.</param>
/// <param name="FileName">Names a file.</param>
/// <param name="Encoding">How text becomes bytes, any byte order mark included.</param>
/// <param name="LineEnd">What ends a line.</param>
/// <param name="Write">Writes the lines of a log.</param>
internal sealed record Station(
    string Folder,
    Instrument Instrument,
    Func<LogMeta, string> FileName,
    Encoding Encoding,
    string LineEnd,
    Func<LogMeta, SimulatedLog, IEnumerable<string>> Write)
{
    /// <summary>Makes the file of a session.</summary>
    /// <param name="meta">What is known besides.</param>
    /// <param name="log">The samples.</param>
    public SampleFile File(LogMeta meta, SimulatedLog log)
    {
        var text = new StringBuilder();
        foreach (var line in Write(meta, log))
        {
            text.Append(line).Append(LineEnd);
        }

        return new SampleFile($"{Folder}/{FileName(meta)}", [.. Encoding.Preamble, .. Encoding.GetBytes(text.ToString())]);
    }
}
