using System.Diagnostics;

namespace PackCare.Cli.Tests.Running;

/// <summary>Kills the real executable at random moments, as a power cut would end it: without a word to it.</summary>
public sealed class Killing(string folder, int seed)
{
    private readonly Random _random = new(seed);

    /// <summary>How many kills came before the program had ended by itself.</summary>
    public int InTime { get; private set; }

    /// <summary>Takes the time of an undisturbed run.</summary>
    public TimeSpan Time(params string[] arguments)
    {
        long start = Stopwatch.GetTimestamp();
        PackCareProcess.Run(folder, null, arguments).Expect(0);
        return Stopwatch.GetElapsedTime(start);
    }

    /// <summary>Starts the program and kills it at a random moment of its usual time, later moments as likely as earlier ones.</summary>
    /// <returns>What it had printed by then.</returns>
    public string Run(TimeSpan usual, params string[] arguments)
    {
        using Process process = PackCareProcess.Start(folder, null, arguments);
        Task<string> printed = process.StandardOutput.ReadToEndAsync();
        Task<string> complained = process.StandardError.ReadToEndAsync();
        if (!process.WaitForExit(usual * (0.15 + (0.9 * _random.NextDouble()))))
        {
            process.Kill();
            InTime++;
        }

        process.WaitForExit();
        Assert.DoesNotContain("packcare:", complained.GetAwaiter().GetResult(), StringComparison.Ordinal);
        return printed.GetAwaiter().GetResult();
    }
}
