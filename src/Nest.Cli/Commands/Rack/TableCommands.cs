using System.CommandLine;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Data.Racks;
using Nest.Rack;
using Nest.Rack.Exchange;
using Nest.Rack.Pieces;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest rack import</c> and <c>export</c>: tables as CSV or XLSX.</summary>
internal static class TableCommands
{
    public static Command Import(RackAccess access)
    {
        var file = new Argument<string>("file") { Description = "A table of pieces: .csv or .xlsx (its first sheet)." };
        var materials = new Option<string?>("--materials") { Description = "A list of materials beside the starter list.", HelpName = "FILE" };
        var newMarks = new Option<bool>("--new-marks") { Description = "Give new marks in place of those in the table." };
        var command = new Command("import", "Enter the pieces of a table, all or none.") { file, materials, newMarks };
        command.SetAction(parsed =>
        {
            var list = ShopMaterials.Load(parsed.GetValue(materials));
            Screen.Report(access.World.Error, list.Findings);
            if (list.Value is not { } known)
            {
                return ExitCode.InputRefused;
            }

            var path = parsed.GetRequiredValue(file);
            ReadResult<RackRows> read;
            if (Path.GetExtension(path).Equals(".xlsx", StringComparison.OrdinalIgnoreCase))
            {
                if (!File.Exists(path))
                {
                    return access.Refuse($"{path} is not there", "check the name of the file");
                }

                if (XlsxReader.ToCsv(File.ReadAllBytes(path), out var error) is not { } text)
                {
                    return access.Refuse($"{path} cannot be read as a workbook: {error}", "save it again as .xlsx, or as .csv");
                }

                read = RackTableReader.Read(text, path, known, access.UnitOf(parsed));
            }
            else
            {
                read = RackTableReader.ReadFile(path, known, access.UnitOf(parsed));
            }

            Screen.Report(access.World.Error, read.Findings);
            if (read.Value is not { } rows)
            {
                return ExitCode.InputRefused;
            }

            var unpriced = rows.Rows.Count(row => row.Value is null);
            var worth = unpriced == 0 ? null : StarterWorth.Load(access.UnitOf(parsed));
            return access.Run(parsed, true, store =>
            {
                store.Learn(rows.Rows.Select(row => row.Material).DistinctBy(material => material.Id));
                var added = store.Add([.. rows.Rows.Select(row => Piece(row, row.Value ?? worth!.Of(row), parsed.GetValue(newMarks)))]);
                if (unpriced > 0)
                {
                    access.World.Error.WriteLine(
                        $"note: {RackText.Count(unpriced, "piece")} without a value entered at what the starter's demo prices give — the column 'value' says what they carry");
                }

                access.Changed(store, $"added {RackText.Count(added.Length, "piece")}: {string.Join(' ', added.Select(piece => piece.Mark))}");
                return ExitCode.Done;
            });
        });
        return command;
    }

    public static Command Export(RackAccess access)
    {
        var file = new Argument<string>("file") { Description = "The table to write: .csv or .xlsx." };
        var command = new Command("export", "Write pieces as a table that a spreadsheet opens and import reads.") { file };
        var filters = new FilterOptions(access);
        filters.AddTo(command);
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var path = parsed.GetRequiredValue(file);
            var pieces = store.List(filters.Read(parsed));
            switch (Path.GetExtension(path).ToLowerInvariant())
            {
                case ".csv":
                    WholeFile.Write(path, CsvTable.Bytes(RackTable.Heads, pieces.Select(RackTable.Row)));
                    break;
                case ".xlsx":
                    WholeFile.Write(path, XlsxWriter.Bytes("rack", RackTable.Heads, pieces.Select(RackTable.Row)));
                    break;
                default:
                    return access.Refuse($"'{path}' is neither .csv nor .xlsx", "name the file so");
            }

            access.Say($"wrote {RackText.Count(pieces.Length, "piece")} to {path}");
            return ExitCode.Done;
        }));
        return command;
    }

    private static RackPiece Piece(RackRow row, Money value, bool newMark) => new()
    {
        Mark = newMark ? "" : row.Mark,
        Form = row.Form,
        MaterialId = row.Material.Id,
        Length = row.Length,
        Width = row.Width,
        Thickness = row.Thickness,
        MinLength = row.MinLength,
        MinWidth = row.MinWidth,
        MinThickness = row.MinThickness,
        Rolling = row.RollingUnknown ? RollingDirection.Unknown : RollingDirection.AlongLength,
        CleanEdges = row.CleanEdges,
        KeepOuts = row.KeepOuts,
        GoodFaces = row.GoodFaces,
        Heat = row.Heat,
        Certificate = row.Certificate,
        Place = row.Place,
        Bought = row.Bought,
        Supplier = row.Supplier,
        Origin = row.Origin,
        Value = value,
        Entered = row.Entered ?? default,
        Condition = row.Condition switch { "poor" => PieceCondition.Poor, "fair" => PieceCondition.Fair, _ => PieceCondition.Good },
        Note = row.Note,
    };
}
