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

    /// <summary>Reads a file that is whole: one that another program wrote to meanwhile may be half the old and half the new.</summary>
    /// <exception cref="FileChangedException">It was written to while it was read, whatever came of the reading.</exception>
    public static T Steady<T>(FileStream stream, Func<FileStream, T> read)
    {
        // Pipes and devices have neither length nor time; those who read them look for themselves.
        var before = stream.CanSeek ? Stamp(stream) : default;
        try
        {
            var result = read(stream);
            return stream.CanSeek && Stamp(stream) != before ? throw new FileChangedException() : result;
        }
        catch (Exception problem) when (problem is not FileChangedException && stream.CanSeek && Stamp(stream) != before)
        {
            throw new FileChangedException();
        }
    }

    // Of the open file, not of its name: a program that saves under another name and renames does no harm.
    private static (long Length, DateTime Written) Stamp(FileStream stream) => (RandomAccess.GetLength(stream.SafeFileHandle), File.GetLastWriteTimeUtc(stream.SafeFileHandle));

    private static FileStream Now(string path) => new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, 1 << 16);
}

/// <summary>A file was written to while it was read.</summary>
internal sealed class FileChangedException() : IOException("The file was changed while it was read.")
{
    public const string Cause = "the file was changed while it was read";

    public const string Remedy = "wait until the other program has saved it, then run this again";
}
