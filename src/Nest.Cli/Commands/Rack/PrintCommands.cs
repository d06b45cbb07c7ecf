using System.CommandLine;
using System.Globalization;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Desk;
using Nest.Output.Files;
using Nest.Output.Rack;
using Nest.Rack;
using Nest.Rack.Exchange;
using Nest.Rack.Pieces;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest rack labels</c> and <c>picture</c>.</summary>
internal static class PrintCommands
{
    public static Command Labels(RackAccess access)
    {
        var file = new Argument<string>("file") { Description = "The PDF to write; with --one also a .png of a single label." };
        var marks = new Argument<string[]>("marks") { Description = "Marks; none: all that the filters leave.", Arity = ArgumentArity.ZeroOrMore };
        var page = Pair("--page", "Width and height of the sheet in mm. Default 210x297.");
        var grid = Pair("--grid", "Columns and rows. Default 3x8.");
        var label = Pair("--label", "Width and height of a label in mm. Default 70x37.");
        var pitch = Pair("--pitch", "From a label to the next, across and down, in mm. Default: as the label.");
        var margin = Pair("--margin", "From the sheet's left and top edge to the first label in mm. Default 0x0.5.");
        var one = Pair("--one", "A page for each label, of this width and height in mm: 62x29.");
        var skip = new Option<int>("--skip") { Description = "So many labels of the first sheet are gone.", HelpName = "N" };
        var command = new Command("labels", "Write labels with mark and QR code.") { file, marks, page, grid, label, pitch, margin, one, skip };
        var filters = new FilterOptions(access);
        filters.AddTo(command);
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var pieces = parsed.GetValue(marks) is { Length: > 0 } named
                ? [.. named.Select(store.Show).DistinctBy(piece => piece.Mark)]
                : store.List(filters.Read(parsed, store));
            if (pieces.Length == 0)
            {
                return access.Refuse("no piece is left to label", "name marks, or loosen the filters");
            }

            var gone = pieces.Where(piece => piece.State is not (PieceState.OnRack or PieceState.Reserved)).Select(piece => $"{piece.Mark} is {RackTable.StateWord(piece.State)}").ToList();
            if (gone.Count > 0)
            {
                var some = string.Join(", ", gone.Take(10)) + (gone.Count > 10 ? string.Create(CultureInfo.InvariantCulture, $" and {gone.Count - 10} more") : "");
                if (parsed.GetValue(marks) is not { Length: > 0 })
                {
                    return access.Refuse($"not all of these pieces are there to be labelled: {some}", "leave --all out, or name the marks that are to be printed all the same");
                }

                access.World.Error.WriteLine($"note: {some}");
            }

            var sheet = LabelSheet.Usual;
            if (Read(parsed, label) is { } size)
            {
                sheet = sheet with { Width = size.X, Height = size.Y, PitchX = size.X, PitchY = size.Y };
            }

            sheet = Read(parsed, page) is { } paper ? sheet with { PageWidth = paper.X, PageHeight = paper.Y } : sheet;
            sheet = Read(parsed, grid) is { } count ? sheet with { Columns = (int)count.X, Rows = (int)count.Y } : sheet;
            sheet = Read(parsed, pitch) is { } step ? sheet with { PitchX = step.X, PitchY = step.Y } : sheet;
            sheet = Read(parsed, margin) is { } edge ? sheet with { Left = edge.X, Top = edge.Y } : sheet;
            sheet = Read(parsed, one) is { } alone ? LabelSheet.OneLabel(alone.X, alone.Y) : sheet;
            if (sheet.Problem() is { } problem)
            {
                return access.Refuse(problem, "measure the sheet with a ruler");
            }

            if (parsed.GetValue(skip) < 0)
            {
                return access.Refuse("--skip must not be below zero", "");
            }

            var path = parsed.GetRequiredValue(file);
            var contents = pieces.Select(piece => RackLabels.Of(piece, access.Format(parsed))).ToList();
            switch (Path.GetExtension(path).ToLowerInvariant())
            {
                case ".pdf":
                    WholeFile.Write(path, LabelPages.Pdf(contents, sheet, parsed.GetValue(skip), access.Today));
                    break;
                case ".png" when contents.Count == 1 && sheet.PerPage == 1:
                    WholeFile.Write(path, LabelPages.Png(contents[0], sheet.Width, sheet.Height));
                    break;
                default:
                    return access.Refuse($"'{path}' cannot be written", "name a .pdf, or with --one and one mark a .png");
            }

            if (LabelPages.WithoutHeat(contents, sheet) is { Count: > 0 } bare)
            {
                access.World.Error.WriteLine($"warning: the label is too small for the heat number of {string.Join(", ", bare)} — take a larger one, or write it by hand");
            }

            access.Say($"wrote {RackText.Count(contents.Count, "label")} to {path}");
            return ExitCode.Done;
        }));
        return command;
    }

    public static Command Picture(RackAccess access)
    {
        var file = new Argument<string>("file") { Description = "The picture to write: .pdf, or .png (a file for each page)." };
        var command = new Command("picture", "Draw the rack to scale, place by place.") { file };
        var filters = new FilterOptions(access);
        filters.AddTo(command);
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var format = access.Format(parsed);
            var items = store.List(filters.Read(parsed, store)).Select(piece => new PictureItem(
                piece.Mark, piece.Place, piece.MaterialId, piece.Form, piece.Length, piece.Width, RackText.Size(piece, format), piece.KeepOuts,
                piece.State == PieceState.Reserved)).ToList();
            var title = $"Rack, {access.Today.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}";
            var path = parsed.GetRequiredValue(file);
            switch (Path.GetExtension(path).ToLowerInvariant())
            {
                case ".pdf":
                    WholeFile.Write(path, RackPicture.Pdf(items, title, access.Today, access.UnitOf(parsed)));
                    access.Say($"wrote {path}");
                    break;
                case ".png":
                    var pages = RackPicture.Pngs(items, title, access.UnitOf(parsed));
                    for (var i = 0; i < pages.Count; i++)
                    {
                        var name = pages.Count == 1 ? path : string.Create(CultureInfo.InvariantCulture, $"{path[..^4]}-{i + 1}.png");
                        WholeFile.Write(name, pages[i]);
                        access.Say($"wrote {name}");
                    }

                    break;
                default:
                    return access.Refuse($"'{path}' is neither .pdf nor .png", "name the file so");
            }

            return ExitCode.Done;
        }));
        return command;
    }

    private static Option<string?> Pair(string name, string description) => new(name) { Description = description, HelpName = "AxB" };

    private static (double X, double Y)? Read(ParseResult parsed, Option<string?> option)
    {
        if (parsed.GetValue(option) is not { } text)
        {
            return null;
        }

        var items = text.Split('x', 'X', '×');
        return items.Length == 2
            && double.TryParse(items[0], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var x)
            && double.TryParse(items[1], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var y)
            && x < 10_000 && y < 10_000
            ? (x, y)
            : throw new RackException(RackFault.Refused, $"{option.Name} is '{text}'", "write two numbers with an x between, such as 70x37");
    }
}
