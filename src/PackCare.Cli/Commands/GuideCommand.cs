using System.CommandLine;
using PackCare.Cli.Hosting;
using PackCare.Cli.Importing;
using PackCare.Cli.Output;
using PackCare.Import.Guides;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Keeps reading guides in the history, where they go along with backups and exports.</summary>
internal sealed class GuideCommand : PackCareCommand
{
    private readonly Argument<string?> _file = new("FILE") { Description = "A guide to keep; without one, what is kept is listed", Arity = ArgumentArity.ZeroOrOne };
    private readonly Option<string?> _name = new("--name") { Description = "The name to keep it under [default: as the guide or its file is called]", HelpName = "NAME" };
    private readonly Option<string?> _show = new("--show") { Description = "Print a kept guide", HelpName = "NAME" };
    private readonly Option<string?> _remove = new("--remove") { Description = "Remove a kept guide; what was read with it stays", HelpName = "NAME" };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public GuideCommand(Host host)
        : base(
            host,
            "guide",
            "Keep reading guides in the history: they apply by themselves to the logs they name, and go along with backups.",
            "packcare guide",
            "packcare guide bay4.guide.json",
            "packcare guide --show \"station in bay 4\"",
            "packcare guide --remove \"station in bay 4\"")
    {
        Add(_file);
        foreach (Option option in new Option[] { _name, _show, _remove, _json })
        {
            Add(option);
        }
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        string? file = parsed.GetValue(_file);
        string? show = parsed.GetValue(_show);
        string? remove = parsed.GetValue(_remove);
        if (new[] { file, show, remove }.Count(one => one is not null) > 1 || (parsed.GetValue(_name) is not null && file is null))
        {
            return Host.Fail(ExitCode.Usage, "give one of FILE, --show and --remove; --name goes with FILE.");
        }

        return file is not null ? Keep(parsed, file) : remove is not null ? Remove(parsed, remove) : List(parsed, show);
    }

    private int Keep(ParseResult parsed, string file)
    {
        if (GuideShelf.ReadFile(file, Host) is not { } guide)
        {
            return ExitCode.Usage;
        }

        if (guide is { FileName: null, Headers: null })
        {
            return Host.Fail(ExitCode.Refused, $"{file} does not say which logs it applies to; add \"appliesTo\", or use it with 'packcare import --guide'.");
        }

        string name = parsed.GetValue(_name) ?? guide.Name ?? Path.GetFileName(file).Replace(GuideShelf.Ending, string.Empty, StringComparison.OrdinalIgnoreCase);
        if (name.Trim().Length is 0 or > 200)
        {
            return Host.Fail(ExitCode.Usage, "a name has 1 to 200 characters.");
        }

        using History history = OpenHistory(parsed, create: true);
        bool replaced = history.Guides().Any(one => one.Name == name);
        history.KeepGuide(new StoredGuide(name, GuideFile.Write(guide)));
        Say(parsed, new { Kept = name, Replaced = replaced }, $"Kept the guide {name}{(replaced ? " in place of the one before" : string.Empty)}; it applies by itself to the logs it names.");
        return ExitCode.Done;
    }

    private int Remove(ParseResult parsed, string name)
    {
        using History history = OpenHistory(parsed, create: false);
        if (!history.RemoveGuide(name))
        {
            return Host.Fail(ExitCode.Refused, $"there is no guide '{name}' in the history; 'packcare guide' lists them.");
        }

        Say(parsed, new { Removed = name }, $"Removed the guide {name}; what was read with it stays as it is.");
        return ExitCode.Done;
    }

    private int List(ParseResult parsed, string? show)
    {
        using History history = OpenHistory(parsed, create: false);
        IReadOnlyList<StoredGuide> guides = [.. history.Guides().Where(one => show is null || one.Name == show)];
        if (show is not null)
        {
            if (guides is not [var only])
            {
                return Host.Fail(ExitCode.Refused, $"there is no guide '{show}' in the history; 'packcare guide' lists them.");
            }

            Host.Out.WriteLine(only.Content);
            return ExitCode.Done;
        }

        foreach (StoredGuide guide in guides)
        {
            Say(parsed, new { guide.Name, guide.Content }, guide.Name);
        }

        if (guides.Count == 0 && !parsed.GetValue(_json))
        {
            Host.Out.WriteLine("No reading guides are kept; 'packcare guide FILE' keeps one.");
        }

        return ExitCode.Done;
    }

    private void Say(ParseResult parsed, object json, string text)
    {
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, json);
        }
        else
        {
            Host.Out.WriteLine(Printable.OneLine(text));
        }
    }
}
