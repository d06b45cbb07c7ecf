using System.Runtime.ExceptionServices;

namespace Nest.Data;

/// <summary>Opens a file that somebody named, without waiting for ever where the name is that of a pipe.</summary>
internal static class NamedFile
{
    // A pipe that nobody writes to never opens.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(3);

    /// <returns>Null when it does not open in time.</returns>
    public static FileStream? Open(string path)
    {
        // Pipes and devices have no length. All else opens at once, and must not depend on how busy the machine is.
        if (new FileInfo(path) is { Exists: true, Length: > 0 })
        {
            return Now(path);
        }

        var opening = Task.Factory.StartNew(() => Now(path), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
        try
        {
            return opening.Wait(Patience) ? opening.Result : null;
        }
        catch (AggregateException problem) when (problem.InnerException is { } inner)
        {
            ExceptionDispatchInfo.Throw(inner);
            return null;
        }
    }

    private static FileStream Now(string path) => new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, 1 << 16);
}
