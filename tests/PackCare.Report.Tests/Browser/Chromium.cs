using System.Diagnostics;
using System.Net.Http.Json;
using System.Net.WebSockets;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace PackCare.Report.Tests.Browser;

/// <summary>A headless browser that is installed here, driven through its debugging protocol. It asks nobody anything.</summary>
public sealed class Chromium : IAsyncDisposable
{
    private static readonly string[] Names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge", "microsoft-edge"];

    private static readonly string AccessibilityEngine = new Deque.AxeCore.Commons.BundledAxeScriptProvider().GetScript();

    private readonly Process _process;
    private readonly string _profile;
    private readonly ClientWebSocket _socket = new();
    private readonly HashSet<string> _seen = [];
    private int _number;

    private Chromium(Process process, string profile)
    {
        _process = process;
        _profile = profile;
    }

    /// <summary>The program, or null where none is installed.</summary>
    public static string? Find()
    {
        if (Environment.GetEnvironmentVariable("PACKCARE_CHROMIUM") is { Length: > 0 } stated)
        {
            return stated;
        }

        string[] folders = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator);
        string ending = OperatingSystem.IsWindows() ? ".exe" : "";
        string[] elsewhere =
        [
            "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
            "/Applications/Chromium.app/Contents/MacOS/Chromium",
            Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.ProgramFiles), "Google", "Chrome", "Application", "chrome.exe"),
            Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.ProgramFilesX86), "Microsoft", "Edge", "Application", "msedge.exe"),
        ];
        return Names.SelectMany(name => folders.Select(folder => Path.Combine(folder, name + ending))).Concat(elsewhere).FirstOrDefault(File.Exists);
    }

    /// <summary>Starts it.</summary>
    public static async Task<Chromium> StartAsync(string program, CancellationToken stop)
    {
        string profile = Directory.CreateTempSubdirectory("packcare-chromium-").FullName;
        var start = new ProcessStartInfo(program)
        {
            RedirectStandardError = true,
            RedirectStandardOutput = true,
            ArgumentList =
            {
                "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update",
                "--disable-sync", "--hide-scrollbars", "--remote-debugging-port=0", "--user-data-dir=" + profile, "about:blank",
            },
        };
        Process process = Process.Start(start) ?? throw new InvalidOperationException($"{program} did not start.");
        process.ErrorDataReceived += (_, _) => { };
        process.OutputDataReceived += (_, _) => { };
        process.BeginErrorReadLine();
        process.BeginOutputReadLine();
        var browser = new Chromium(process, profile);
        string portFile = Path.Combine(profile, "DevToolsActivePort");
        for (int i = 0; i < 300 && !(File.Exists(portFile) && new FileInfo(portFile).Length > 0); i++)
        {
            await Task.Delay(100, stop);
        }

        string port = (await File.ReadAllLinesAsync(portFile, stop))[0];
        using var http = new HttpClient();
        JsonArray targets = (await http.GetFromJsonAsync<JsonArray>(new Uri($"http://127.0.0.1:{port}/json"), stop))!;
        string address = targets.First(target => (string?)target!["type"] == "page")!["webSocketDebuggerUrl"]!.GetValue<string>();
        await browser._socket.ConnectAsync(new Uri(address), stop);
        await browser.SendAsync("Page.enable", [], stop);
        await browser.SendAsync("Log.enable", [], stop);
        return browser;
    }

    /// <summary>Opens a file at a width.</summary>
    public async Task OpenAsync(string path, int width, bool dark, CancellationToken stop)
    {
        await SendAsync("Emulation.setDeviceMetricsOverride", new() { ["width"] = width, ["height"] = 900, ["deviceScaleFactor"] = 1, ["mobile"] = false }, stop);
        await SendAsync("Emulation.setEmulatedMedia", new() { ["media"] = "", ["features"] = new JsonArray(new JsonObject { ["name"] = "prefers-color-scheme", ["value"] = dark ? "dark" : "light" }) }, stop);
        _seen.Clear();
        await SendAsync("Page.navigate", new() { ["url"] = new Uri(path).AbsoluteUri }, stop);
        while (!_seen.Contains("Page.loadEventFired"))
        {
            await ReceiveAsync(stop);
        }
    }

    /// <summary>Whether the page broke its own policy or failed to load something since it was opened.</summary>
    public bool Complained => _seen.Contains("Log.entryAdded");

    /// <summary>Lays the open page out as for paper.</summary>
    public async Task LayOutForPaperAsync(CancellationToken stop) =>
        await SendAsync("Emulation.setEmulatedMedia", new() { ["media"] = "print" }, stop);

    /// <summary>Evaluates an expression in the page and gives what it, or what it promises, yields.</summary>
    public async Task<JsonNode?> EvaluateAsync(string expression, CancellationToken stop)
    {
        JsonNode answer = await SendAsync("Runtime.evaluate", new() { ["expression"] = expression, ["returnByValue"] = true, ["awaitPromise"] = true }, stop);
        return answer["exceptionDetails"] is { } wrong ? throw new InvalidOperationException(wrong.ToJsonString()) : answer["result"]!["value"];
    }

    /// <summary>What speaks against the open page by the accessibility engine, a line a rule with the elements it names.</summary>
    public async Task<string[]> AccessibilityFaultsAsync(CancellationToken stop)
    {
        await EvaluateAsync(AccessibilityEngine + "; true", stop);
        const string run = """
            axe.run(document, { resultTypes: ['violations'] }).then(found => found.violations.map(rule =>
              rule.id + ' (' + rule.help + '): ' + rule.nodes.slice(0, 5).map(node => node.target.join(' ') + ' ' + (node.any[0]?.message ?? '')).join(' | ')))
            """;
        return [.. (await EvaluateAsync(run, stop))!.AsArray().Select(fault => (string)fault!)];
    }

    /// <summary>Takes a picture of the whole page, a CSS pixel being as many pixels of the picture as the scale says.</summary>
    public async Task<byte[]> PictureAsync(CancellationToken stop, int scale = 1)
    {
        JsonObject parameters = new() { ["format"] = "png", ["captureBeyondViewport"] = true };
        if (scale != 1)
        {
            JsonNode size = (await SendAsync("Page.getLayoutMetrics", [], stop))["cssContentSize"]!;
            parameters["clip"] = new JsonObject { ["x"] = 0, ["y"] = 0, ["width"] = (double)size["width"]!, ["height"] = (double)size["height"]!, ["scale"] = scale };
        }

        JsonNode answer = await SendAsync("Page.captureScreenshot", parameters, stop);
        return Convert.FromBase64String(answer["data"]!.GetValue<string>());
    }

    /// <summary>The names and roles that assistive programs are given.</summary>
    public async Task<JsonArray> AccessibilityTreeAsync(CancellationToken stop)
    {
        await SendAsync("Accessibility.enable", [], stop);
        return (await SendAsync("Accessibility.getFullAXTree", [], stop))["nodes"]!.AsArray();
    }

    /// <summary>Prints to A4 and gives the PDF.</summary>
    public async Task<byte[]> PrintAsync(CancellationToken stop)
    {
        JsonNode answer = await SendAsync("Page.printToPDF", new() { ["preferCSSPageSize"] = true }, stop);
        return Convert.FromBase64String(answer["data"]!.GetValue<string>());
    }

    public async ValueTask DisposeAsync()
    {
        _socket.Dispose();
        if (!_process.HasExited)
        {
            _process.Kill(entireProcessTree: true);
            await _process.WaitForExitAsync();
        }

        _process.Dispose();
        try
        {
            Directory.Delete(_profile, recursive: true);
        }
        catch (IOException)
        {
            // A helper process may still be closing a file in it; the folder is a temporary one.
        }
    }

    private async Task<JsonNode> SendAsync(string method, JsonObject parameters, CancellationToken stop)
    {
        int number = ++_number;
        byte[] message = JsonSerializer.SerializeToUtf8Bytes(new JsonObject { ["id"] = number, ["method"] = method, ["params"] = parameters });
        await _socket.SendAsync(message, WebSocketMessageType.Text, endOfMessage: true, stop);
        while (true)
        {
            JsonNode answer = await ReceiveAsync(stop);
            if ((int?)answer["id"] == number)
            {
                return answer["result"] ?? throw new InvalidOperationException($"{method}: {answer.ToJsonString()}");
            }
        }
    }

    private async Task<JsonNode> ReceiveAsync(CancellationToken stop)
    {
        using var message = new MemoryStream();
        byte[] buffer = new byte[1 << 16];
        ValueWebSocketReceiveResult part;
        do
        {
            part = await _socket.ReceiveAsync(buffer.AsMemory(), stop);
            message.Write(buffer, 0, part.Count);
        }
        while (!part.EndOfMessage);
        JsonNode node = JsonNode.Parse(message.ToArray())!;
        if ((string?)node["method"] is { } method)
        {
            _seen.Add(method);
        }

        return node;
    }
}
