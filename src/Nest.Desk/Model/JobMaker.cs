using System.Globalization;
using System.Text;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Models;
using Nest.Data.Toml;
using Nest.Output.Files;

namespace Nest.Desk.Model;

/// <summary>Makes a job's folder from a list that was understood: the list in our own format and a job file that a person may go on writing.</summary>
internal static class JobMaker
{
    private const int MostName = 80;

    /// <returns>The folder's name; or null and why not. A folder that is there already is never touched.</returns>
    public static (string? Folder, string Problem) Make(Shop shop, string name, int sets, Job job, IReadOnlyList<DroppedFile> files)
    {
        var folder = FolderName(name);
        if (folder.Length == 0)
        {
            return (null, "Give the job a name with a letter or a figure in it.");
        }

        var path = Path.Combine(shop.Folder, folder);
        if (Directory.Exists(path) || File.Exists(path))
        {
            return (null, $"There is a folder '{folder}' already: give the job another name.");
        }

        try
        {
            Directory.CreateDirectory(path);
            WholeFile.Write(Path.Combine(path, "parts.csv"), CsvFile.Bytes(CleanParts.Table(job)));
            foreach (var model in files.Where(file => ModelReader.IsModel(file.SafeName)))
            {
                // The sizes are in the list; the models stay with the job for whoever makes the parts.
                Directory.CreateDirectory(Path.Combine(path, "models"));
                WholeFile.Write(Path.Combine(path, "models", model.SafeName), model.Bytes);
            }

            WholeFile.Write(Path.Combine(path, "job.toml"), Encoding.UTF8.GetBytes(Text(shop, name, sets, job)));
            return (folder, "");
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return (null, $"The job cannot be written: {problem.Message}");
        }
    }

    /// <summary>A name for a folder: letters and figures of the name in small, with hyphens; never a way out of the shop.</summary>
    internal static string FolderName(string name)
    {
        var text = new StringBuilder();
        foreach (var c in name.Trim().ToLowerInvariant())
        {
            if (char.IsAsciiLetterOrDigit(c) || char.IsLetterOrDigit(c))
            {
                text.Append(c);
            }
            else if (text.Length > 0 && text[^1] != '-')
            {
                text.Append('-');
            }
        }

        var folder = text.ToString().Trim('-');
        return folder.Length > MostName ? folder[..MostName].Trim('-') : folder;
    }

    private static string Text(Shop shop, string name, int sets, Job job)
    {
        // The shop's own settings where it has them; else the starter's.
        var own = shop.TextOf("shop.toml") ?? "";
        var currency = TomlText.Names(own, "currency") is [{ Length: 3 } said] ? said : job.Currency;
        var paper = TomlText.Names(own, "paper") is [var sheet] ? $"paper = {TomlText.Quoted(sheet)}\n" : "";
        var saws = shop.TextOf("saws.toml") is null ? "saws = \"starter\"\n" : "saws = \"../saws.toml\"\n";
        var sellers = shop.TextOf("suppliers.toml") is { } suppliers
            ? $"suppliers = \"../suppliers.toml\"\n{(suppliers.Split('\n').Any(line => line.StartsWith("price_list", StringComparison.Ordinal)) ? "" : "catalogue = \"starter\"   # demo prices, until a supplier has a price list\n")}"
            : "catalogue = \"starter\"   # demo prices: name your suppliers' price lists here\n";
        return string.Create(CultureInfo.InvariantCulture, $"""
            # Made on the desk. What is left out here is taken from the default shop; stock/README.md lists all that may stand here.
            name = {TomlText.Quoted(name)}
            currency = "{currency}"
            unit = "{(job.Unit == LengthUnit.Inch ? "in" : "mm")}"
            batch = {sets}              # sets of the parts

            parts = "parts.csv"

            """).ReplaceLineEndings("\n") + paper + saws + sellers + Section(own, "[shop]");
    }

    /// <summary>A section of a TOML file as it is written, its comments with it; empty: it has none.</summary>
    private static string Section(string text, string head)
    {
        var lines = text.ReplaceLineEndings("\n").Split('\n');
        var from = Array.FindIndex(lines, line => line.StartsWith(head, StringComparison.Ordinal));
        return from < 0 ? "" : "\n" + string.Join('\n', lines[from..].TakeWhile((line, at) => at == 0 || !line.StartsWith('['))).TrimEnd() + "\n";
    }
}
