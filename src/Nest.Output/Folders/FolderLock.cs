namespace Nest.Output.Folders;

/// <summary>Keeps a second run out of a folder while one writes there. The system lets go of it when a program ends, however it ends.</summary>
/// <remarks>The file stays where it is. If it were deleted, a run that has it open and a run that makes a new one would both hold a lock.</remarks>
internal sealed class FolderLock : IDisposable
{
    private const string Name = "data/.lock";

    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(50);

    private readonly FileStream _held;

    private FolderLock(FileStream held) => _held = held;

    /// <summary>Waits for the folder.</summary>
    /// <exception cref="FolderException">Another program had it all the time, or the folder cannot be written.</exception>
    public static FolderLock Take(string folder, TimeSpan patience)
    {
        var path = Path.Combine(folder, Name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        for (var waited = TimeSpan.Zero; ; waited += Pause)
        {
            try
            {
                return new(new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
            }
            catch (IOException) when (File.Exists(path) && waited < patience)
            {
                Thread.Sleep(Pause);
            }
            catch (IOException) when (File.Exists(path))
            {
                throw new FolderException($"another run writes into {folder} — wait for it, or name another folder");
            }
        }
    }

    public void Dispose() => _held.Dispose();
}
