using System.Text;
using PackCare.Simulation;

namespace PackCare.SampleLogs;

/// <summary>An invented place where packs are logged: its instrument and its way of writing files.</summary>
/// <param name="Folder">Folder of its files.</param>
/// <param name="Instrument">How it sees a pack.</param>
/// <param name="FileName">Names a file.</param>
/// <param name="Encoding">How text becomes bytes, any byte order mark included.</param>
/// <param name="LineEnd">What ends a line.</param>
/// <param name="Write">Writes the lines of a log, a single header line first where it has one.</param>
/// <param name="OneFileADay">Whether all sessions of a day go into one file, below one header line.</param>
internal sealed record Station(
    string Folder,
    Instrument Instrument,
    Func<LogMeta, string> FileName,
    Func<LogMeta, Encoding> Encoding,
    string LineEnd,
    Func<LogMeta, SimulatedLog, IEnumerable<string>> Write,
    bool OneFileADay = false)
{
    /// <summary>Makes a file.</summary>
    /// <param name="logs">What is known besides, and the samples, in order of time; more than one only with <see cref="OneFileADay"/>.</param>
    public SampleFile File(IReadOnlyList<(LogMeta Meta, SimulatedLog Log)> logs)
    {
        var text = new StringBuilder();
        foreach (var line in logs.SelectMany((log, index) => Write(log.Meta, log.Log).Skip(index == 0 ? 0 : 1)))
        {
            text.Append(line).Append(LineEnd);
        }

        var meta = logs[0].Meta;
        var encoding = Encoding(meta);
        return new SampleFile($"{Folder}/{FileName(meta)}", [.. encoding.Preamble, .. encoding.GetBytes(text.ToString())]);
    }
}
