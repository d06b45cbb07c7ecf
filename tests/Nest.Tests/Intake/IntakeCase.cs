using System.Globalization;
using System.Text;
using Nest.Cli.Commands;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Data.Racks;
using Nest.Data.Tables;
using Nest.Fuzz.Tables;

namespace Nest.Tests.Intake;

/// <summary>A small file with one quirk or fault, and what is said of it: caption, kind, choices, input, expected answer, all in one text file.</summary>
/// <remarks>First lines <c>key: value</c> (caption; kind parts, prices or rack; as utf-8, utf-16, windows-1252, xlsx or ods; options as on the
/// command line), a line <c>--- input</c>, a line <c>--- expected</c>. The input of a workbook stands with bars between cells; see <see cref="Grid"/>.</remarks>
internal sealed record IntakeCase(string File, string Caption, string Kind, string As, string Options, string Input, string Expected)
{
    public static string Folder => Path.Combine(AppContext.BaseDirectory, "Intake", "cases");

    public static IntakeCase Read(string name)
    {
        var text = System.IO.File.ReadAllText(Path.Combine(Folder, name)).Replace("\r\n", "\n", StringComparison.Ordinal);
        var input = text.IndexOf("--- input\n", StringComparison.Ordinal);
        var expected = text.IndexOf("--- expected\n", StringComparison.Ordinal);
        var keys = text[..input].Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => line.Split(": ", 2)).ToDictionary(pair => pair[0], pair => pair[1]);
        return new(name, keys["caption"], keys.GetValueOrDefault("kind", "parts"), keys.GetValueOrDefault("as", "utf-8"), keys.GetValueOrDefault("options", ""), text[(input + 10)..expected], text[(expected + 13)..]);
    }

    /// <summary>What the readers answer, as text.</summary>
    public string Answer()
    {
        var folder = Directory.CreateTempSubdirectory("nest-intake-").FullName;
        try
        {
            var file = Path.Combine(folder, $"list.{(As is "xlsx" or "ods" ? As : "csv")}");
            System.IO.File.WriteAllBytes(file, Bytes());
            return (Kind switch
            {
                "prices" => Prices(folder, Path.GetFileName(file)),
                "rack" => Rack(file),
                _ => Parts(file),
            }).Replace(folder + Path.DirectorySeparatorChar, "", StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>The input as the bytes of its file; \u001b and the like stand for the character.</summary>
    private byte[] Bytes()
    {
        var text = System.Text.RegularExpressions.Regex.Replace(Input, @"\\u([0-9a-f]{4})", match => ((char)int.Parse(match.Groups[1].Value, NumberStyles.HexNumber, CultureInfo.InvariantCulture)).ToString());
        var grid = new Grid([.. text.Split('\n').SkipLast(1).Select(line => line.Split('|'))]);
        return As switch
        {
            "xlsx" => grid.Xlsx(),
            "ods" => grid.Ods(),
            "utf-16" => [.. Encoding.Unicode.GetPreamble(), .. Encoding.Unicode.GetBytes(text)],
            "utf-16 without mark" => Encoding.Unicode.GetBytes(text),
            "utf-8 with mark" => [0xEF, 0xBB, 0xBF, .. Encoding.UTF8.GetBytes(text)],
            "windows-1252" => Encoding.Latin1.GetBytes(text),
            _ => Encoding.UTF8.GetBytes(text),
        };
    }

    private TableChoices Choices()
    {
        var command = new System.CommandLine.Command("x");
        var options = new TableOptions(command);
        var words = Options.Split('"').SelectMany((part, at) => at % 2 == 1 ? [part] : part.Split(' ', StringSplitOptions.RemoveEmptyEntries)).ToArray();
        var parsed = command.Parse(words);
        parsed.Errors.Should().BeEmpty();
        return options.Of(parsed);
    }

    private string Parts(string file)
    {
        var read = JobReader.Inspect(file, Choices());
        return Text(read.Findings, read.Input?.Job.Parts.Select(part => string.Create(
            CultureInfo.InvariantCulture,
            $"part {part.Id}: {part.MaterialId}, {(part.Round ? $"Ø {part.Width}" : $"{part.Thickness} x {part.Width}")} x {part.Length}, {part.Quantity}{(part.Forms == Forms.Any ? "" : $", {part.Forms}")}")));
    }

    private string Prices(string folder, string file)
    {
        System.IO.File.WriteAllText(Path.Combine(folder, "parts.csv"), "part,material,length,width,thickness,quantity\n" + string.Concat(new[] { "6061", "1018", "A36", "S235JR", "304" }.Select(material => $"p {material},{material},50,40,5,1\n")));
        System.IO.File.WriteAllText(Path.Combine(folder, "job.toml"), $"parts = \"parts.csv\"\nunit = \"mm\"\ncurrency = \"USD\"\n[[supplier]]\nname = \"Alder (invented)\"\nprice_list = \"{file}\"\n");
        var read = JobReader.Read(Path.Combine(folder, "job.toml"), Choices());
        return Text(read.Findings, read.Value?.Job.Stocks.Select(stock => string.Create(
            CultureInfo.InvariantCulture,
            $"stock {stock.Id}: {stock.MaterialId} {stock.Form}, {stock.Thickness} x {stock.Width} x {stock.Length}, {stock.UnitPrice:0.######} per {stock.PriceBasis} = {stock.PiecePrice}{string.Concat(stock.Terms.Breaks.Select(step => $", {step.PiecePrice} from {step.From}"))}")));
    }

    private string Rack(string file)
    {
        var choices = Choices();
        var read = RackTableReader.ReadFile(file, ShopMaterials.Load(null).Value!, choices.Unit ?? LengthUnit.Millimetre, choices);
        return Text(read.Findings, read.Value?.Rows.Select(row => string.Create(
            CultureInfo.InvariantCulture,
            $"piece {row.Piece.Mark}: {row.Piece.MaterialId} {row.Piece.Form}, {row.Piece.Thickness} x {row.Piece.Width} x {row.Piece.Length}{string.Concat(row.Piece.KeepOuts.Select(area => $", damage {area.X} {area.Y} {area.SizeX} {area.SizeY}"))}")));
    }

    private static string Text(IReadOnlyCollection<Finding> findings, IEnumerable<string>? good) =>
        (good is null ? "refused\n" : "read\n" + string.Concat(good.Select(line => line + "\n")))
        + string.Concat(findings.Select(finding => $"{(finding.Severity == Severity.Error ? "error" : "note")} {finding.Rule} at {finding}\n"));
}
