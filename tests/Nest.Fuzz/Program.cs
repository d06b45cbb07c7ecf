using System.Diagnostics;
using System.Globalization;
using Nest.Fuzz.Tables;

// Long runs of made input: tables --count N --seed S [--keep DIR]. Exit 1 after a fault; each is kept as a file.
// read FILE: how long a parts list takes to read, three times.
if (args is ["read", var file])
{
    for (var time = 0; time < 3; time++)
    {
        var reading = Stopwatch.StartNew();
        var cpu = Process.GetCurrentProcess().TotalProcessorTime;
        var read = Nest.Data.JobReader.Read(file);
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{read.Value?.Job.Parts.Length ?? 0} parts, {reading.Elapsed.TotalSeconds:0.00} s, {(Process.GetCurrentProcess().TotalProcessorTime - cpu).TotalSeconds:0.00} s of CPU, {GC.GetTotalMemory(false) >> 20} MiB"));
    }

    return 0;
}

if (args is not ["tables", ..])
{
    Console.Error.WriteLine("tables --count N --seed S [--keep DIR] | read FILE");
    return 2;
}

var count = int.Parse(Option("--count", "100000"), CultureInfo.InvariantCulture);
var seed = int.Parse(Option("--seed", "1"), CultureInfo.InvariantCulture);
var keep = Option("--keep", "faults");
var run = new TableRun();
var faults = 0;
var watch = Stopwatch.StartNew();
for (var i = 0; i < count && faults < 50; i++)
{
    // Each file by a seed of its own, so that one can be made again alone.
    var (name, bytes) = new TableMutations(unchecked((seed * 1_000_003) + i)).Next();
    if (run.Fault(name, bytes) is { } fault)
    {
        faults++;
        Directory.CreateDirectory(keep);
        File.WriteAllBytes(Path.Combine(keep, $"{seed}-{i}-{name}"), bytes);
        Console.WriteLine($"{i} {name}: {fault}");
    }
}

Console.WriteLine(string.Create(
    CultureInfo.InvariantCulture,
    $"{count} files from seed {seed}: {run.Read} read, {run.Refused} refused, {faults} faults; {watch.Elapsed.TotalSeconds:0} s, slowest {run.Slowest.TotalMilliseconds:0} ms, at most {Process.GetCurrentProcess().PeakWorkingSet64 >> 20} MiB"));
return faults == 0 ? 0 : 1;

string Option(string name, string usual) => Array.IndexOf(args, name) is >= 0 and var at && at + 1 < args.Length ? args[at + 1] : usual;
