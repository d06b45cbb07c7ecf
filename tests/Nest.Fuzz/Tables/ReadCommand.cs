using System.Diagnostics;
using System.Globalization;
using Nest.Data;

namespace Nest.Fuzz.Tables;

/// <summary><c>read FILE</c>: how long a parts list takes to read.</summary>
internal static class ReadCommand
{
    public const string Help = "read FILE: reads a parts list three times";

    public static int Run(string file)
    {
        for (var time = 0; time < 3; time++)
        {
            var watch = Stopwatch.StartNew();
            var before = Process.GetCurrentProcess().TotalProcessorTime;
            var read = JobReader.Read(file);
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{read.Value?.Job.Parts.Length ?? 0} parts, {watch.Elapsed.TotalSeconds:0.00} s, {(Process.GetCurrentProcess().TotalProcessorTime - before).TotalSeconds:0.00} s of CPU, {GC.GetTotalMemory(false) >> 20} MiB"));
        }

        return 0;
    }
}
