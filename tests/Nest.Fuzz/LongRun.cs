using System.Globalization;
using System.Runtime.InteropServices;
using Nest.Fuzz.Tables;

namespace Nest.Fuzz;

/// <summary><c>long --results FILE --minutes M</c>: gives every reader made input in shards of a minute of processor time, the reader with the least time first,
/// until each has had its minutes. A shard is one row of the results, so a run that is ended goes on where it was: the next one takes the next seed.</summary>
internal sealed class LongRun(string results, string models, string keep)
{
    public const string Help = "long --results FILE [--minutes 30] [--data DIR] [--keep DIR]";

    private const string Head = "reader,seed,inputs,read,faults,cpu_s,slowest_s,slowest_input,most_mib";
    private const double ShardSeconds = 60;
    private const double MostSeconds = 5;
    private const int MostMib = 1024;

    private static readonly string[] Readers = ["text", "xlsx", "ods", "stl", "3mf", "obj", "step", "dxf"];

    private volatile bool ended;

    public static int Run(string[] arguments)
    {
        var minutes = double.Parse(Value("--minutes") ?? "30", CultureInfo.InvariantCulture);
        var file = Value("--results") ?? throw new ArgumentException(Help);
        return new LongRun(file, Value("--data") ?? "tests/Nest.Tests/Models", Value("--keep") ?? "faults").Run(minutes * 60);

        string? Value(string name) => Array.IndexOf(arguments, name) is >= 0 and var at && at + 1 < arguments.Length ? arguments[at + 1] : null;
    }

    private int Run(double seconds)
    {
        // Ended from outside: the shard is written as far as it came.
        using var terminated = PosixSignalRegistration.Create(PosixSignal.SIGTERM, End);
        using var interrupted = PosixSignalRegistration.Create(PosixSignal.SIGINT, End);
        var faults = 0;
        while (!ended)
        {
            var done = File.Exists(results) ? File.ReadAllLines(results).Skip(1).Select(line => line.Split(',')).ToList() : [];
            var reader = Readers.MinBy(Spent)!;
            if (Spent(reader) >= seconds)
            {
                break;
            }

            faults += Shard(reader, 1 + done.Where(row => row[0] == reader).Select(row => int.Parse(row[1], CultureInfo.InvariantCulture)).DefaultIfEmpty(0).Max());

            double Spent(string of) => done.Where(row => row[0] == of).Sum(row => double.Parse(row[5], CultureInfo.InvariantCulture));
        }

        return faults == 0 ? 0 : 1;

        void End(PosixSignalContext context)
        {
            context.Cancel = true;
            ended = true;
        }
    }

    private int Shard(string reader, int seed)
    {
        var input = Input(reader, seed);
        var (inputs, read, faults, slowest, slow, most) = (0, 0, 0, 0.0, 0, 0L);
        var begun = Processor();
        for (var now = begun; !ended && now - begun < ShardSeconds; inputs++)
        {
            var (name, bytes) = input.Make(inputs);
            var (before, allocated) = (Processor(), GC.GetAllocatedBytesForCurrentThread());
            string? fault = null;
            try
            {
                read += input.Read(name, bytes, inputs) ? 1 : 0;
            }
#pragma warning disable CA1031 // Whatever it is, it is what is looked for.
            catch (Exception problem)
#pragma warning restore CA1031
            {
                fault = problem.ToString();
            }

            now = Processor();
            var mib = (GC.GetAllocatedBytesForCurrentThread() - allocated) >> 20;
            most = Math.Max(most, mib);
            (slowest, slow) = now - before > slowest ? (now - before, inputs) : (slowest, slow);
            fault ??= now - before > MostSeconds ? $"{now - before:0.0} s" : mib > MostMib ? $"{mib} MiB" : null;
            if (fault is not null)
            {
                faults++;
                Directory.CreateDirectory(keep);
                File.WriteAllBytes(Path.Combine(keep, $"{reader}-{seed}-{inputs}-{name}"), bytes);
                Console.WriteLine($"{reader} {seed} {inputs} {name}: {fault}");
            }
        }

        var row = string.Create(CultureInfo.InvariantCulture, $"{reader},{seed},{inputs},{read},{faults},{Processor() - begun:0.0},{slowest:0.00},{slow},{most}\n");
        File.AppendAllText(results, File.Exists(results) ? row : $"{Head}\n{row}");
        return faults;
    }

    private (Func<int, (string Name, byte[] Bytes)> Make, Func<string, byte[], int, bool> Read) Input(string reader, int seed)
    {
        if (reader is not ("text" or "xlsx" or "ods"))
        {
            var fuzz = new ModelFuzz([models + "/files", models + "/independent"], reader);
            return (number => fuzz.Make(seed, number), ModelFuzz.Read);
        }

        var run = new TableRun();
        return (
            number => new TableMutations(unchecked((seed * 1_000_003) + number)).Next((TableKind)(number % 3), reader),
            (name, bytes, number) =>
            {
                var before = run.Read;
                return run.Fault(name, bytes, (TableKind)(number % 3)) is { } fault ? throw new InvalidOperationException(fault) : run.Read > before;
            }
        );
    }

    private static double Processor() => Environment.CpuUsage.TotalTime.TotalSeconds;
}
