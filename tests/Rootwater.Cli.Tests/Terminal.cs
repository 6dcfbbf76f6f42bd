using System.Diagnostics;

namespace Rootwater.Cli.Tests;

/// <summary>The program as a process: what goes in, what comes out, and with which exit status.</summary>
internal static class Terminal
{
    public static (int Status, string Out, string Error) Rootwater(string input, params string[] arguments)
    {
        var start = new ProcessStartInfo(Path.Combine(AppContext.BaseDirectory, OperatingSystem.IsWindows() ? "rootwater.exe" : "rootwater"), arguments)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync();
        process.StandardInput.Write(input);
        process.StandardInput.Close();
        var output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, output, error.Result);
    }
}
