using System.Diagnostics;
using System.Globalization;

namespace Nest.Fuzz.Tables;

/// <summary>Many made tables, one after the other, each by a seed of its own, so that one can be made again alone.</summary>
internal static class TableCommand
{
    public const string Help = "tables [--kind parts|prices|rack] --count N --seed S [--keep DIR]";

    public static int Run(string[] args)
    {
        var kind = Enum.Parse<TableKind>(Option("--kind", "parts"), ignoreCase: true);
        var count = int.Parse(Option("--count", "100000"), CultureInfo.InvariantCulture);
        var seed = int.Parse(Option("--seed", "1"), CultureInfo.InvariantCulture);
        var keep = Option("--keep", "faults");
        var run = new TableRun();
        var faults = 0;
        var watch = Stopwatch.StartNew();
        for (var i = 0; i < count && faults < 50; i++)
        {
            var (name, bytes) = new TableMutations(unchecked((seed * 1_000_003) + i)).Next(kind);
            if (run.Fault(name, bytes, kind) is { } fault)
            {
                faults++;
                Directory.CreateDirectory(keep);
                File.WriteAllBytes(Path.Combine(keep, $"{seed}-{i}-{name}"), bytes);
                Console.WriteLine($"{i} {name}: {fault}");
            }
        }

        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{count} {kind} from seed {seed}: {run.Read} read, {run.Refused} refused, {faults} faults; {watch.Elapsed.TotalSeconds:0} s, {Environment.CpuUsage.TotalTime.TotalSeconds:0} s of CPU, slowest {run.Slowest.TotalMilliseconds:0} ms, at most {Process.GetCurrentProcess().PeakWorkingSet64 >> 20} MiB"));
        return faults == 0 ? 0 : 1;

        string Option(string name, string usual) => Array.IndexOf(args, name) is >= 0 and var at && at + 1 < args.Length ? args[at + 1] : usual;
    }
}
