using System.CommandLine;
using System.Globalization;
using Nest.Cli.Commands.Rack;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Data.Tables;
using Nest.Output.Files;

namespace Nest.Cli.Commands;

/// <summary><c>nest parts</c>: how a parts list was understood, and the list written anew in our own format.</summary>
internal static class PartsCommand
{
    public static void Fill(Command command, World world)
    {
        var input = new Argument<string>("file") { Description = "A parts list (.csv, .xlsx, .ods), a job file (.toml), or - for a table that is piped in." };
        var output = new Option<string?>("--out", "-o") { Description = "Write the list in Nest's own format, to plan from or to correct.", HelpName = "FILE.csv" };
        command.With(input, output);
        var tables = new TableOptions(command);
        command.SetAction(parsed => Run(world, parsed.GetRequiredValue(input), parsed.GetValue(output), tables.Of(parsed)));
    }

    private static int Run(World world, string input, string? output, TableChoices choices)
    {
        var read = input == "-" ? JobReader.Inspect(world.In(), "-", choices) : JobReader.Inspect(input, choices);
        foreach (var table in read.Tables)
        {
            Show(world.Out, table);
        }

        if (read.Input is { } job)
        {
            Parts(world.Out, job);
        }

        Screen.Report(world.Error, read.Findings);
        if (read.Input is not { } given)
        {
            return ExitCode.InputRefused;
        }

        if (output is not null)
        {
            if (!Path.GetExtension(output).Equals(".csv", StringComparison.OrdinalIgnoreCase))
            {
                world.Error.WriteLine($"error: '{output}' does not end in .csv — name the file so");
                return ExitCode.InputRefused;
            }

            WholeFile.Write(output, CsvFile.Bytes(CleanParts.Table(given.Job)));
            world.Out.WriteLine();
            world.Out.WriteLine($"Written to {output}: {RackText.Count(given.Job.Parts.Length, "part")}, in {(given.Job.Unit == LengthUnit.Inch ? "inches" : "millimetres")} with a point.");
        }

        return ExitCode.Done;
    }

    private static void Show(TextWriter writer, TableUnderstanding table)
    {
        if (table.HeadRow == 0)
        {
            // Models without a list: there are no heads to speak of.
            writer.WriteLine($"{table.File}: {table.Kind}");
            writer.WriteLine();
            return;
        }

        var sheet = table.Sheet is null ? "" : $", sheet '{table.Sheet}'";
        writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{table.File}: {table.Kind}{sheet}; head in row {table.HeadRow}, {table.RowsRead} rows read"));
        RackText.Table(writer, ["column", "head", "read as", "unit", "decimal", "why"], [.. table.Columns.Select(column => new[]
        {
            column.Number.ToString(CultureInfo.InvariantCulture), column.Head, column.Meaning ?? "-", column.Unit ?? "",
            column.Meaning is null or "part" or "material" or "note" or "forms" ? "" : column.DecimalMark switch { ',' => "comma", '.' => "point", _ => "?" }, column.Reason,
        })]);
        writer.WriteLine($"Numbers without a unit are {(table.Unit == LengthUnit.Inch ? "inches" : "millimetres")}: {table.UnitReason}.");
        foreach (var row in table.LeftOut)
        {
            writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"row {row.Row} left out ({row.Why}): {row.Text}"));
        }

        writer.WriteLine();
    }

    private static void Parts(TextWriter writer, JobInput input)
    {
        var format = LengthFormat.For(input.Job.Unit, input.Job.InchFraction);
        RackText.Table(writer, ["part", "material", "pieces a set", "length", "width", "thickness", "diameter", "forms", "row", "size as written"], [.. input.Job.Parts.Select(part => new[]
        {
            part.Id, part.MaterialId, part.Quantity.ToString(CultureInfo.InvariantCulture), format.Text(part.Length),
            part.Round ? "" : format.Text(part.Width), part.Round ? "" : format.Text(part.Thickness), part.Round ? format.Text(part.Width) : "",
            CleanParts.Words(part.Forms), input.PartRows.TryGetValue(part.Id, out var where) && where.Row > 0 ? where.Row.ToString(CultureInfo.InvariantCulture) : "",
            input.SizeTexts.GetValueOrDefault(part.Id, ""),
        })]);
    }
}
