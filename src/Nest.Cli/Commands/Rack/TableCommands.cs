using System.Collections.Immutable;
using System.CommandLine;
using System.Security.Cryptography;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Data;
using Nest.Data.Racks;
using Nest.Output.Files;
using Nest.Rack;
using Nest.Rack.Exchange;
using Nest.Rack.Marks;
using Nest.Rack.Pieces;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest rack import</c> and <c>export</c>: tables as CSV or XLSX.</summary>
internal static class TableCommands
{
    public static Command Import(RackAccess access)
    {
        var file = new Argument<string>("file") { Description = "A table of pieces: .csv, .xlsx or .ods." };
        var materials = new Option<string?>("--materials") { Description = "A list of materials beside the starter list.", HelpName = "FILE" };
        var newMarks = new Option<bool>("--new-marks") { Description = "Give new marks in place of those in the table. Without it marks are kept as they are painted." };
        var again = new Option<bool>("--again") { Description = "Enter a table that was entered before: its pieces are there twice." };
        var comma = new Option<bool>("--decimal-comma") { Description = "The same as --decimal comma." };
        var command = new Command("import", "Enter the pieces of a table, all or none; a column 'count' enters so many equal pieces.") { file, materials, newMarks, comma, again };
        var tables = new TableOptions(command, withUnit: false);
        command.SetAction(parsed =>
        {
            var list = ShopMaterials.Load(parsed.GetValue(materials));
            Screen.Report(access.World.Error, list.Findings);
            if (list.Value is not { } known)
            {
                return ExitCode.InputRefused;
            }

            var read = RackTableReader.ReadFile(parsed.GetRequiredValue(file), known, access.UnitOf(parsed), parsed.GetValue(comma) ? tables.Of(parsed) with { DecimalMark = ',' } : tables.Of(parsed));
            Screen.Report(access.World.Error, [.. read.Findings.Select(finding => finding with { Advice = NumberInput.AtTheKeyboard(finding.Advice) })]);
            if (read.Value is not { } rows)
            {
                return ExitCode.InputRefused;
            }

            var marks = rows.Rows.Where(row => row.Piece.Mark.Length > 0 && !parsed.GetValue(newMarks))
                .Select(row => PieceMark.TryRead(row.Piece.Mark, out _, out var error) ? null : new Finding(
                    Severity.Error, "mark-unreadable", row.Where, error, "leave the mark empty, or import with --new-marks, and the rack gives one"))
                .OfType<Finding>().ToImmutableArray();
            Screen.Report(access.World.Error, marks);
            if (marks.Length > 0)
            {
                return ExitCode.InputRefused;
            }

            var unpriced = rows.Rows.Count(row => !row.HasValue);
            var worth = unpriced == 0 ? null : ShopCommands.Worth(access, parsed);
            if (unpriced > 0 && worth is null)
            {
                return ExitCode.InputRefused;
            }

            // The same table once more would enter its pieces twice.
            var table = parsed.GetValue(again) ? null : Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(parsed.GetRequiredValue(file))));
            return access.Run(parsed, true, store =>
            {
                store.Learn(rows.Rows.Select(row => row.Material).DistinctBy(material => material.Id));
                var added = store.Add([.. rows.Rows.Select(row => row.Piece with
                {
                    Mark = parsed.GetValue(newMarks) ? "" : row.Piece.Mark,
                    Origin = parsed.GetValue(newMarks) && row.Piece.Mark.Length > 0 ? Before(row.Piece) : row.Piece.Origin,
                    Value = row.HasValue ? row.Piece.Value : worth!.Of(row.Piece, row.Material),
                })], table);
                if (unpriced > 0)
                {
                    access.World.Error.WriteLine(RackText.Unpriced(unpriced, worth!.IsOwn, "the column 'value'"));
                }

                var plates = rows.Rows.Where(row => row.Piece.Form == Form.Plate).ToList();
                if (plates.Count > 0 && plates.TrueForAll(row => PieceCommands.IsTiny(row.Piece)) && access.UnitOf(parsed) == LengthUnit.Millimetre)
                {
                    access.World.Error.WriteLine("note: no plate of this table is longer than 30 mm — meant in inches? 'nest rack undo' takes it back; then import with --unit in");
                }

                if (parsed.GetValue(newMarks))
                {
                    // Whoever paints the new marks has to find the pieces by the old ones.
                    var format = access.Format(parsed);
                    RackText.Table(access.World.Out, ["paint", "in place of", "on", "material", "place"], [.. added.Zip(rows.Rows, (piece, row) => new[]
                    {
                        piece.Mark, row.Piece.Mark.Length == 0 ? "-" : row.Piece.Mark, $"{RackText.FormName(piece)} {RackText.Size(piece, format)}", piece.MaterialId, piece.Place,
                    })]);
                }

                access.Changed(store, $"added {RackText.Count(added.Length, "piece")}{(parsed.GetValue(newMarks) ? "" : ": " + Some(added.Select(piece => piece.Mark)))}");
                return ExitCode.Done;
            });
        });
        return command;
    }

    public static Command Export(RackAccess access)
    {
        var file = new Argument<string>("file") { Description = "The table to write: .csv or .xlsx." };
        var command = new Command("export", "Write pieces as a table that a spreadsheet opens and import reads; sizes in millimetres whatever --unit says, to be exact.") { file };
        var filters = new FilterOptions(access);
        filters.AddTo(command);
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var path = parsed.GetRequiredValue(file);
            var pieces = store.List(filters.Read(parsed, store));
            switch (Path.GetExtension(path).ToLowerInvariant())
            {
                case ".csv":
                    WholeFile.Write(path, CsvFile.Bytes(Table(pieces)));
                    break;
                case ".xlsx":
                    WholeFile.Write(path, XlsxFile.Bytes([Table(pieces)]));
                    break;
                default:
                    return access.Refuse($"'{path}' is neither .csv nor .xlsx", "name the file so");
            }

            access.Say($"wrote {RackText.Count(pieces.Length, "piece")} to {path}");
            return ExitCode.Done;
        }));
        return command;
    }

    private static string Some(IEnumerable<string> marks)
    {
        const int Named = 40;
        var all = marks.ToList();
        return string.Join(' ', all.Take(Named)) + (all.Count > Named ? " … ('nest rack list' shows all)" : "");
    }

    private static string Before(RackPiece piece) => $"marked {piece.Mark} before{(piece.Origin.Length == 0 ? "" : "; " + piece.Origin)}";

    private static Sheet Table(IEnumerable<RackPiece> pieces) => new("rack", RackTable.Heads, [.. pieces.Select(RackTable.Row)]);
}
