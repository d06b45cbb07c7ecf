using System.Diagnostics;

namespace Nest.EndToEnd;

/// <summary>A disk in memory that is soon full; gone after the test.</summary>
internal sealed class SmallDisk : IDisposable
{
    private static readonly Lazy<bool> Possible = new(() =>
    {
        if (!OperatingSystem.IsLinux())
        {
            return false;
        }

        var folder = Directory.CreateTempSubdirectory("nest-disk-").FullName;
        var mounted = Mounted(folder, 16);
        if (mounted)
        {
            Unmount(folder);
        }

        Directory.Delete(folder);
        return mounted;
    });

    private readonly string _folder;

    public SmallDisk(string folder, int kilobytes)
    {
        _folder = folder;
        Directory.CreateDirectory(folder);
        Mounted(folder, kilobytes).Should().BeTrue();
    }

    public static bool CanBeMade => Possible.Value;

    public void Dispose() => Unmount(_folder);

    private static bool Mounted(string folder, int kilobytes) => Ends("mount", "-t", "tmpfs", "-o", $"size={kilobytes}k", "tmpfs", folder);

    private static void Unmount(string folder) => Ends("umount", folder);

    private static bool Ends(string program, params string[] words)
    {
        try
        {
            using var process = Process.Start(new ProcessStartInfo(program, words) { RedirectStandardError = true })!;
            process.StandardError.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode == 0;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    }
}
