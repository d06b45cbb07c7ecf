using System.Diagnostics;
using System.Globalization;
using Nest.Output.Folders;

namespace Nest.RackStress;

/// <summary>Figures of kills while a plan's folder is written.</summary>
/// <param name="Plans">Plans that the killed runs had written whole.</param>
/// <param name="WhileMade">Kills while the files of the next plan were made: the old plan stays.</param>
/// <param name="WhileMoved">Kills after the next plan was whole and before it was in its place: the next command puts it there.</param>
internal sealed record FolderKillFigures(int Kills, int Plans, int WhileMade, int WhileMoved, IReadOnlyList<string> Failures);

/// <summary>Kills (SIGKILL) programs that write a plan's folder, at random moments, and looks at the folder after each: it is of the old plan or of
/// the new one, the next run writes into it, and nothing of the dead one is left.</summary>
internal static class FolderKillTest
{
    public static FolderKillFigures Run(string folder, int kills, int seed, Action<string>? progress = null)
    {
        var random = new Random(seed);
        var failures = new List<string>();
        var (next, plans, made, moved) = (1, 0, 0, 0);
        FolderWorker.Write(folder, next++);
        for (var kill = 0; kill < kills && failures.Count < 10; kill++)
        {
            var said = next - 1;
            using var process = Processes.Start("folder", folder, next, 1_000_000, random.Next(3) == 0 ? 0 : 6);
            var reader = Task.Run(() =>
            {
                while (process.StandardOutput.ReadLine() is { } line)
                {
                    Volatile.Write(ref said, int.TryParse(line, CultureInfo.InvariantCulture, out var plan) ? plan : said);
                }
            });
            var (enough, patience) = (next - 1 + random.Next(4), Stopwatch.StartNew());
            while (!reader.IsCompleted && Volatile.Read(ref said) < enough && patience.Elapsed.TotalSeconds < 60)
            {
                Thread.Sleep(1);
            }

            Thread.Sleep(random.Next(60));
            process.Kill();
            process.WaitForExit();
            reader.Wait();
            if (process.StandardError.ReadToEnd() is { Length: > 0 } error)
            {
                failures.Add($"kill {kill}: the run failed: {error}");
            }

            made += Directory.EnumerateDirectories(folder, ".nest-new-*").Any() ? 1 : 0;
            moved += Directory.Exists(Path.Combine(folder, ".nest-ready")) ? 1 : 0;
            plans += said - (next - 1);
            failures.AddRange(Faults(folder, said, out var now).Select(fault => string.Create(CultureInfo.InvariantCulture, $"kill {kill}: {fault}")));
            next = now + 1;
            FolderWorker.Write(folder, next++);
            failures.AddRange(Left(folder, next - 1).Select(fault => string.Create(CultureInfo.InvariantCulture, $"the run after kill {kill}: {fault}")));
            if (kill % 25 == 24)
            {
                progress?.Invoke(string.Create(CultureInfo.InvariantCulture, $"{kill + 1} kills, {plans} plans, {made} while files were made, {moved} while they were moved, {failures.Count} failures"));
            }
        }

        return new(kills, plans, made, moved, failures);
    }

    /// <param name="said">The last plan that the dead run said was written.</param>
    /// <param name="plan">The plan that is in the folder now.</param>
    private static List<string> Faults(string folder, int said, out int plan)
    {
        var faults = new List<string>();
        var seen = Seen(folder).Select(name => FolderWorker.MarkIn(Path.Combine(folder, name))).Distinct().ToList();
        if (seen.Count > 1)
        {
            faults.Add($"files of {string.Join(" and ", seen)} lie beside each other");
        }

        // What every command that reads a folder does first.
        FolderWriter.Complete(folder);
        plan = FileList.In(folder) is { } list && list.Plan == FolderWorker.Mark(said + 1) ? said + 1 : said;
        faults.AddRange(Whole(folder, plan));
        return faults;
    }

    private static IEnumerable<string> Left(string folder, int plan) =>
        Whole(folder, plan).Concat(Directory.EnumerateFileSystemEntries(folder, ".nest-*", SearchOption.AllDirectories).Select(path => $"{Path.GetRelativePath(folder, path)} was left"));

    private static IEnumerable<string> Whole(string folder, int plan)
    {
        var mark = FolderWorker.Mark(plan);
        if (FileList.In(folder)?.Plan is var listed && listed != mark)
        {
            yield return $"the list is of {listed ?? "no plan"}, {mark} was written last";
        }

        foreach (var finding in FolderCheck.Of(folder, mark, "data/plan.json"))
        {
            yield return finding.ToString();
        }

        if (!Seen(folder).Order(StringComparer.Ordinal).SequenceEqual(FolderWorker.Names(plan).Order(StringComparer.Ordinal)))
        {
            yield return $"{mark} has other files than {string.Join(", ", Seen(folder))}";
        }

        foreach (var name in Seen(folder).Where(name => FolderWorker.MarkIn(Path.Combine(folder, name)) != mark))
        {
            yield return $"{name} is of {FolderWorker.MarkIn(Path.Combine(folder, name))}, not of {mark}";
        }
    }

    /// <summary>What a person sees in the folder, without the list and what is hidden.</summary>
    private static IEnumerable<string> Seen(string folder) => Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories)
        .Select(path => Path.GetRelativePath(folder, path).Replace('\\', '/')).Where(name => name != FileList.Place && !name.Split('/').Any(part => part.StartsWith('.')));
}
