using System.CommandLine;
using System.Globalization;
using PackCare.Analysis;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Charge drawn down to a stated cell voltage, as data sheets and measurement campaigns define capacity.</summary>
internal sealed class DrawnCommand : PackCareCommand
{
    private readonly Argument<string> _label = MakeLabelArgument();
    private readonly Option<double> _to = new("--to") { Description = "Cut-off voltage of a cell under load, in volts", HelpName = "V", Required = true };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public DrawnCommand(Host host)
        : base(
            host,
            "drawn",
            "List the charge that each logged discharge drew until its lowest cell reached a voltage, as data sheets define capacity.",
            "packcare drawn \"Heron 1\" --to 3.3")
    {
        Add(_label);
        Add(_to);
        Add(_json);
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        double volts = parsed.GetValue(_to);
        if (volts is not (> 0.5 and < 5))
        {
            return Host.Fail(ExitCode.Usage, "--to takes the voltage of one cell, from 0.5 to 5 V.");
        }

        using History history = OpenHistory(parsed, create: false);
        if (FindPack(history, parsed.GetValue(_label)!) is not { } pack || Now(parsed) is not { } now)
        {
            return ExitCode.Usage;
        }

        PackHistory record = history.Load(pack);
        var drawn = record.Sessions
            .Where(session => session.Started <= now)
            .OrderBy(session => session.Started)
            .Select(session => (Session: session, Drawn: DischargeCharge.ToCutoff(history.LoadSamples(session.Id), volts)))
            .Where(item => item.Drawn is not null)
            .ToList();
        if (parsed.GetValue(_json))
        {
            foreach ((SessionRecord session, DrawnCharge? one) in drawn)
            {
                JsonText.WriteLine(Host.Out, new { Pack = pack.Label, Session = session.Id, File = session.FileName, StartedUtc = JsonText.Utc(session.Started), CutoffVolts = volts, DrawnAh = one!.Value.ToCrossingAh, DrawnToFirstSampleAh = one.Value.ToFirstSampleAh });
            }

            return ExitCode.Done;
        }

        if (drawn.Count == 0)
        {
            Host.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"No logged discharge of {pack.Label} reached {volts} V."));
            return ExitCode.Done;
        }

        PlainTable table = PlainTable.Make([2], "session", "started", "file", "Ah to crossing", "Ah to first sample");
        foreach ((SessionRecord session, DrawnCharge? one) in drawn)
        {
            table.AddRow(
                PlainTable.Cell(session.Id.ToString(CultureInfo.InvariantCulture)),
                PlainTable.Cell(Figures.Moment(session.Started)),
                PlainTable.Cell(session.FileName),
                PlainTable.Cell(one!.Value.ToCrossingAh.ToString("0.0000", CultureInfo.InvariantCulture)),
                PlainTable.Cell(one.Value.ToFirstSampleAh.ToString("0.0000", CultureInfo.InvariantCulture)));
        }

        Host.Show(table);
        Host.Paragraph(string.Create(CultureInfo.InvariantCulture, $"Counted from each log's first sample until its lowest cell reached {volts} V with current flowing out: to the crossing itself, interpolated between two samples, and to the first sample at or below {volts} V, as measurements that stop by a sampled voltage are summed up. Plain counts, not estimates: an error of the instrument's current scale is in them in full."));
        return ExitCode.Done;
    }
}
