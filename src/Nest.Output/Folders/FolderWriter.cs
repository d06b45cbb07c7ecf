using System.Collections.Immutable;
using System.Text;

namespace Nest.Output.Folders;

/// <summary>Makes some files of a folder when it is asked: names within the folder, with <c>/</c>, and bytes.</summary>
internal delegate IReadOnlyList<(string Name, byte[] Bytes)> FileMaker();

/// <summary>Puts the files of one plan into a folder in the place of those of another, whole.</summary>
/// <remarks>
/// Problem: a run may be killed at any moment, another may write into the same folder, the disk may be full; yet the folder must never show files of
/// two plans.
/// Method: under a lock (<see cref="FolderLock"/>) all files are made in a hidden folder of the run's own inside the folder, then that folder gets
/// the name <c>.nest-ready</c>: from here on the new plan is there. Then, in this order: the old list is deleted, the files that it named, then the new files are moved
/// to their places, their list last.
/// Guarantee: before <c>.nest-ready</c> the folder shows the old plan, and what a dead run left hidden is taken away by the next. After it the
/// folder shows only old files, then only new ones, and <see cref="Complete"/>, which every command that reads a folder calls, goes on where a
/// dead run stopped. Each step can be done again. Files that no list names are never deleted and never replaced. A loss of power may lose
/// what the disk did not write yet; the list's figures tell it.
/// Complexity: linear in the bytes.
/// </remarks>
public sealed class FolderWriter
{
    /// <summary>How long a run waits for another that writes: longer than the largest plans take.</summary>
    internal static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);

    /// <summary>The folder of a run that had made all its files; what it holds counts.</summary>
    internal const string Ready = ".nest-ready";

    private const string Own = ".nest-new-";
    private const string Old = "old.txt";
    private const string NewList = "files.json";
    private const string Sheets = "files";

    private readonly string _folder;

    private FolderWriter(string folder) => _folder = folder;

    /// <summary>Called before each step with its name: tests look there at what a run that is ended would leave.</summary>
    internal Action<string>? Before { get; init; }

    /// <summary>Makers at work at one time.</summary>
    internal int Threads { get; init; } = Environment.ProcessorCount;

    /// <summary>How long it waits for another run.</summary>
    internal TimeSpan Wait { get; init; } = Patience;

    /// <summary>Goes on where a run was ended that had made all of its files.</summary>
    /// <returns>Whether there was something to finish.</returns>
    public static bool Complete(string folder) => Directory.Exists(Path.Combine(folder, Ready)) && For(folder).Finish();

    /// <summary>Adds a file that was written later (a quote) to a folder's list, so that it goes when the plan does. Does nothing where there
    /// is no list.</summary>
    public static void Enlist(string folder, string name)
    {
        if (FileList.In(folder) is null)
        {
            return;
        }

        using var held = FolderLock.Take(folder, Patience);
        if (FileList.In(folder) is { } list)
        {
            var file = new ListedFile(name, FileList.HashOf(File.ReadAllBytes(Path.Combine(folder, name))));
            Files.WholeFile.Write(
                Path.Combine(folder, FileList.Place), (list with { Files = [.. list.Files.Where(one => one.Name != name), file] }).ToBytes());
        }
    }

    internal static FolderWriter For(string folder, Action<string>? before = null, int? threads = null, TimeSpan? wait = null) =>
        new(folder) { Before = before, Threads = threads ?? Environment.ProcessorCount, Wait = wait ?? Patience };

    /// <summary>Writes a plan's files.</summary>
    /// <param name="plan">The plan's mark.</param>
    /// <param name="replace">Whether a plan that is in use may be replaced.</param>
    /// <param name="verify">Looks at the written files, in the folder that it gets, before they count; throws when one is not as it should be.</param>
    /// <exception cref="FolderException">The folder is in use, or a file there is not of a plan; nothing was changed.</exception>
    internal OutputResult Write(string plan, IEnumerable<FileMaker> makers, bool replace = false, Action<string>? verify = null)
    {
        Directory.CreateDirectory(_folder);
        using var held = FolderLock.Take(_folder, Wait);
        FinishHeld();
        var old = FileList.In(_folder);
        FolderGuard.RefuseUsed(_folder, old, replace);
        var stage = Path.Combine(_folder, Own + Guid.NewGuid().ToString("N"));
        FileList list;
        try
        {
            list = new(plan, Stage(stage, makers));
            FolderGuard.RefuseStrangers(_folder, FolderGuard.Strangers(_folder, list, old));
            verify?.Invoke(Path.Combine(stage, Sheets));
            Step("list");
            var gone = old is null ? [] : old.Files.Select(file => file.Name).ToList();
            gone.Add(InUse.Name);
            File.WriteAllText(Path.Combine(stage, Old), string.Concat(gone.Select(name => name + "\n")), new UTF8Encoding(false));
            File.WriteAllBytes(Path.Combine(stage, NewList), list.ToBytes());
            CanReplace(old, list);
        }
        catch
        {
            Discard(stage);
            throw;
        }

        Step("ready");
        Directory.Move(stage, Path.Combine(_folder, Ready));
        FinishHeld();
        var names = list.Files.Select(file => file.Name).ToHashSet(StringComparer.Ordinal);
        return new(_folder, [.. list.Files.Select(file => file.Name)], old is null ? [] : [.. old.Files.Select(file => file.Name).Where(name => !names.Contains(name))]);
    }

    private bool Finish()
    {
        using var held = FolderLock.Take(_folder, Wait);
        return FinishHeld();
    }

    private ImmutableArray<ListedFile> Stage(string stage, IEnumerable<FileMaker> makers)
    {
        var root = Path.Combine(stage, Sheets);
        Step("stage");
        Directory.CreateDirectory(root);
        var files = makers.AsParallel().AsOrdered().WithDegreeOfParallelism(Math.Clamp(Threads, 1, 16))
            .Select(make => make().Select(file =>
            {
                Step(file.Name);
                var path = Path.Combine(root, file.Name);
                Directory.CreateDirectory(Path.GetDirectoryName(path)!);
                File.WriteAllBytes(path, file.Bytes);
                return new ListedFile(file.Name, FileList.HashOf(file.Bytes));
            }).ToArray());
        try
        {
            return [.. files.SelectMany(some => some)];
        }
        catch (AggregateException many) when (many.InnerExceptions is [var first, ..])
        {
            // One is told: a full disk stops all makers at once.
            throw first is IOException or UnauthorizedAccessException or OutOfMemoryException ? Again(first) : many;
        }
    }

    private static Exception Again(Exception first)
    {
        System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(first);
        return first;
    }

    /// <summary>Before anything is touched: a file that is open in another program (Windows), or a folder without the right to write.</summary>
    private void CanReplace(FileList? old, FileList list)
    {
        foreach (var folder in list.Files.Concat(old?.Files ?? []).Select(file => Path.GetDirectoryName(Path.Combine(_folder, file.Name))!).Distinct().Where(Directory.Exists))
        {
            // Those of runs that were ended here.
            foreach (var dead in Directory.EnumerateFiles(folder, Own + "*"))
            {
                File.Delete(dead);
            }

            var probe = Path.Combine(folder, Own + Guid.NewGuid().ToString("N"));
            File.WriteAllBytes(probe, []);
            Step("probe");
            File.Delete(probe);
        }

        foreach (var path in (old?.Files ?? []).Select(file => Path.Combine(_folder, file.Name)).Where(path => OperatingSystem.IsWindows() && File.Exists(path)))
        {
            try
            {
                using var open = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Delete);
            }
            catch (IOException fault)
            {
                throw new FolderException($"{path} is open in another program — close it and plan again", fault);
            }
        }
    }

    private bool FinishHeld()
    {
        foreach (var dead in Directory.EnumerateDirectories(_folder, Own + "*"))
        {
            Directory.Delete(dead, recursive: true);
        }

        var ready = Path.Combine(_folder, Ready);
        if (!Directory.Exists(ready))
        {
            return false;
        }

        var old = Path.Combine(ready, Old);
        if (File.Exists(old))
        {
            Step("old list");
            File.Delete(Path.Combine(_folder, FileList.Place));
            foreach (var name in File.ReadAllLines(old).Where(FileList.StaysInside))
            {
                Step("delete " + name);
                Delete(Path.Combine(_folder, name));
            }

            // From here on what stands in the folder under a listed name may be new.
            Step("deleted");
            File.Delete(old);
        }

        var sheets = Path.Combine(ready, Sheets);
        foreach (var file in Directory.Exists(sheets) ? Directory.GetFiles(sheets, "*", SearchOption.AllDirectories) : [])
        {
            var name = Path.GetRelativePath(sheets, file);
            Step("move " + name);
            var path = Path.Combine(_folder, name);
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.Move(file, path, overwrite: true);
        }

        Step("new list");
        if (File.Exists(Path.Combine(ready, NewList)))
        {
            Directory.CreateDirectory(Path.GetDirectoryName(Path.Combine(_folder, FileList.Place))!);
            File.Move(Path.Combine(ready, NewList), Path.Combine(_folder, FileList.Place), overwrite: true);
        }

        Step("done");
        Directory.Delete(ready, recursive: true);
        return true;
    }

    /// <summary>Deletes a file, and the folder that it was in when nothing else is there.</summary>
    private void Delete(string path)
    {
        if (Directory.Exists(Path.GetDirectoryName(path)))
        {
            File.Delete(path);
        }

        for (var folder = Path.GetDirectoryName(path)!; folder.Length > _folder.Length && Directory.Exists(folder) && !Directory.EnumerateFileSystemEntries(folder).Any(); folder = Path.GetDirectoryName(folder)!)
        {
            Directory.Delete(folder);
        }
    }

    private static void Discard(string stage)
    {
        try
        {
            if (Directory.Exists(stage))
            {
                Directory.Delete(stage, recursive: true);
            }
        }
        catch (Exception second) when (second is IOException or UnauthorizedAccessException)
        {
            // What failed first is what the user must hear; the next run takes the rest away.
        }
    }

    private void Step(string name) => Before?.Invoke(name);
}
