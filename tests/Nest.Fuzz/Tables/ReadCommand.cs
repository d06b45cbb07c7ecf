using System.Diagnostics;
using System.Globalization;
using Nest.Data;

namespace Nest.Fuzz.Tables;

/// <summary><c>read FILE</c>: how long a parts list takes to read.</summary>
internal static class ReadCommand
{
    public const string Help = "read FILE: reads a parts list three times\nmake FILE ROWS: a parts list (.csv, .xlsx or .ods) of so many rows, to read";

    /// <summary>Writes a list to be read: names, one material, three sizes and a quantity.</summary>
    public static int Make(string file, int rows)
    {
        string[] head = ["Part", "Material", "Length mm", "Width mm", "Thickness mm", "Quantity"];
        var number = Path.GetExtension(file) == ".csv" ? "" : "num:";
        var grid = new Grid([head, .. Enumerable.Range(0, rows).Select(i => new[]
        {
            string.Create(CultureInfo.InvariantCulture, $"P{i:000000}"), "6061-T6", Cell(20 + (i % 977 * 0.5m)), Cell(10 + (i % 83)), Cell(6 + (i % 7)), Cell(1 + (i % 9)),
        })]);
        File.WriteAllBytes(file, Path.GetExtension(file) switch { ".xlsx" => grid.Xlsx(), ".ods" => grid.Ods(), _ => System.Text.Encoding.UTF8.GetBytes(grid.Text(',')) });
        return 0;

        string Cell(decimal value) => string.Create(CultureInfo.InvariantCulture, $"{number}{value:0.#}");
    }

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
