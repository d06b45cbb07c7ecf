using System.Diagnostics;

namespace Nest.EndToEnd;

/// <summary>Faults of the surroundings, made on purpose: each ends with the right exit code and one clear message, nothing is half
/// written and nothing is lost. Where the fault needs the system (streams, signals, memory) the program runs as a process of its own.</summary>
public class FaultsTest
{
    private const string Plan = "plan job.toml --work 500 --out out";

    /// <summary>On a machine without home, path, temporary folder or language: the reader of the screen ends, the log's disk is full, or both are closed.</summary>
    [LinuxTheory]
    [InlineData("2>/dev/full | head -c 1 >/dev/null")]
    [InlineData("2>&- >&-")]
    public void A_stream_that_is_full_or_closed_loses_no_plan(string streams)
    {
        using var run = new Run();
        SmallJob.Write(run);
        Shell(run, $"{{ env -i DOTNET_ROOT=\"$DOTNET_ROOT\" TMPDIR=/nowhere {Program} {Plan} --details; echo $? > code; }} {streams}");
        File.ReadAllText(run.Path("code")).Trim().Should().BeOneOf("0", "7");
        run.Nest("check", run.Path("out")).Should().Be(0, run.Out + run.Error);
    }

    [LinuxFact]
    public void A_polite_end_gives_the_best_plan_so_far()
    {
        using var run = new Run();
        // A job of few pieces that is not proven for a long time.
        var job = Path.Combine(Repo.Root, "tests", "Nest.Bench", "frozen", "middle-1", "job.toml");
        var start = new ProcessStartInfo("/bin/sh") { WorkingDirectory = run.Folder, RedirectStandardError = true };
        start.ArgumentList.Add("-c");
        start.ArgumentList.Add($"exec {Program} plan '{job}' --seconds 600 --out out > screen.txt");
        using var process = Process.Start(start)!;
        // The first line of progress tells that there is a plan; without one the end may be asked for just as well.
        process.StandardError.ReadLine();
        using var kill = Process.Start("kill", ["-TERM", process.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
        process.StandardError.ReadToEnd().Should().Contain("best plan so far");
        process.WaitForExit();
        process.ExitCode.Should().Be(0);
        run.Nest("check", run.Path("out")).Should().Be(0, run.Out + run.Error);
    }

    /// <summary>Six and seven MiB: the plan is made, its files are not. Once the drawing library called a stream of ours from inside it, where an exception ends the program. With less than five MiB the runtime
    /// itself may end it, whatever is caught.</summary>
    [LinuxTheory]
    [InlineData("600000")]
    [InlineData("700000")]
    public void Too_little_memory_is_said_and_nothing_is_written(string limit)
    {
        using var run = new Run();
        SmallJob.Write(run);
        var (code, text) = Shell(run, $"DOTNET_GCHeapHardLimit={limit} {Program} {Plan} 2>&1");
        code.Should().Be(7, text);
        text.Should().Contain("not enough memory").And.NotContain("   at ");
        NothingIsIn(run.Path("out"));
    }

    [Fact]
    public void A_folder_that_is_a_file_is_refused_and_the_file_stays()
    {
        using var run = new Run();
        run.Write("out", "mine");
        run.Nest("plan", SmallJob.Write(run), "--work", "500", "--out", run.Path("out")).Should().Be(2);
        run.Error.Should().Contain("error: ").And.Contain("out");
        File.ReadAllText(run.Path("out")).Should().Be("mine");
    }

    /// <summary>Nobody can write there, not even the administrator.</summary>
    [LinuxFact]
    public void A_place_that_cannot_be_written_is_refused_with_its_name()
    {
        using var run = new Run();
        run.Nest("plan", SmallJob.Write(run), "--work", "500", "--out", "/proc/nest").Should().Be(2);
        run.Error.Should().Contain("/proc/nest").And.NotContain("   at ");
    }

    /// <summary>Disks of growing size: some hold the first files of the folder, none holds all.</summary>
    [SmallDiskTheory]
    [InlineData(16)]
    [InlineData(200)]
    public void A_full_disk_leaves_nothing_half_written(int kilobytes)
    {
        using var run = new Run();
        using var disk = new SmallDisk(run.Path("disk"), kilobytes);
        run.Nest("plan", SmallJob.Write(run), "--work", "500", "--out", run.Path("disk/out")).Should().Be(2, run.Out);
        run.Error.Should().Contain("error: ").And.NotContain("   at ");
        NothingIsIn(run.Path("disk"));
    }

    /// <summary>Nothing but the empty file that keeps a second run out, which always stays (FolderLock says why).</summary>
    private static void NothingIsIn(string folder)
    {
        if (Directory.Exists(folder))
        {
            Directory.GetFiles(folder, "*", SearchOption.AllDirectories).Where(file => Path.GetFileName(file) != ".lock" || new FileInfo(file).Length > 0).Should().BeEmpty();
        }
    }

    private static string Runtime => Path.GetFileNameWithoutExtension(Environment.ProcessPath) == "dotnet" ? Environment.ProcessPath! : "dotnet";

    private static string Program => $"\"{Runtime}\" \"{Path.Combine(AppContext.BaseDirectory, "nest.dll")}\"";

    private static (int Code, string Text) Shell(Run run, string line)
    {
        var start = new ProcessStartInfo("/bin/sh") { WorkingDirectory = run.Folder, RedirectStandardOutput = true };
        start.ArgumentList.Add("-c");
        start.ArgumentList.Add(line);
        using var shell = Process.Start(start)!;
        var text = shell.StandardOutput.ReadToEnd();
        shell.WaitForExit();
        return (shell.ExitCode, text);
    }

    [AttributeUsage(AttributeTargets.Method)]
    private sealed class LinuxFactAttribute : FactAttribute
    {
        public LinuxFactAttribute() => Skip = OperatingSystem.IsLinux() ? null : "The fault is made with means of Linux.";
    }

    [AttributeUsage(AttributeTargets.Method)]
    private sealed class LinuxTheoryAttribute : TheoryAttribute
    {
        public LinuxTheoryAttribute() => Skip = OperatingSystem.IsLinux() ? null : "The fault is made with means of Linux.";
    }

    /// <summary>A theory that needs the right to mount a disk of its own; without it the run lists it as skipped.</summary>
    [AttributeUsage(AttributeTargets.Method)]
    private sealed class SmallDiskTheoryAttribute : TheoryAttribute
    {
        public SmallDiskTheoryAttribute() => Skip = SmallDisk.CanBeMade ? null : "A disk of a few kilobytes can be mounted by the administrator only.";
    }
}
