using System.Diagnostics;
using Nest.Tests.Data;

namespace Nest.Tests.Contracts;

/// <summary>The checker in another language (<c>tests/second-checker</c>), written from <c>stock/plan-format.md</c> alone.</summary>
internal static class SecondChecker
{
    /// <summary>Python 3 on the path; null: there is none.</summary>
    public static string? Python { get; } = Find();

    /// <summary>Checks plan files; the answer names what differs.</summary>
    public static (int Code, string Text) Check(params IEnumerable<string> files)
    {
        var start = new ProcessStartInfo(Python!) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.ArgumentList.Add("-B");
        start.ArgumentList.Add(Path.Combine(Repository.Root, "tests", "second-checker", "check.py"));
        foreach (var file in files)
        {
            start.ArgumentList.Add(file);
        }

        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync();
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, text + error.Result);
    }

    private static string? Find() => (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
        .SelectMany(folder => OperatingSystem.IsWindows() ? new[] { Path.Combine(folder, "python.exe") } : [Path.Combine(folder, "python3")])
        .FirstOrDefault(File.Exists);
}

/// <summary>A test that needs Python 3; without it the run lists it as skipped.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class PythonFactAttribute : FactAttribute
{
    public PythonFactAttribute() => Skip = SecondChecker.Python is null ? "Python 3 is not on the path: install it to run the second checker." : null;
}
