using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Data.Toml;
using Nest.Output.Files;

namespace Nest.Desk;

/// <summary>The answers to the five questions of a new shop.</summary>
public sealed record ShopAnswers
{
    public LengthUnit Unit { get; init; } = LengthUnit.Millimetre;

    /// <summary>Three capital letters; empty: what is usual with the unit.</summary>
    public string Currency { get; init; } = "";

    /// <summary>As text in the unit; empty: the usual one; <c>none</c>: there is no such saw.</summary>
    public string BarKerf { get; init; } = "";

    public string PlateKerf { get; init; } = "";

    /// <summary>Shortest piece that the vise holds; empty: the usual one.</summary>
    public string Vise { get; init; } = "";

    public ImmutableArray<string> Suppliers { get; init; } = [];

    /// <summary>Whether to begin with a job to look at.</summary>
    public bool Example { get; init; }
}

/// <summary>Writes a shop: text files with comments that a person goes on writing.</summary>
public static class ShopMaker
{
    private const string None = "none";
    private const int MostSuppliers = 50;

    /// <returns>Why nothing was written; empty when it was.</returns>
    public static string Make(string folder, ShopAnswers answers)
    {
        var own = Path.Combine(folder, ".nest-desk");
        if (File.Exists(folder) || (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any(entry => entry != own)))
        {
            return $"{folder}: something is there already — name a folder that is not there, or an empty one";
        }

        var currency = answers.Currency.Trim() is { Length: > 0 } said ? said : answers.Unit == LengthUnit.Inch ? "USD" : "EUR";
        if (currency.Length != 3 || !currency.All(char.IsAsciiLetterUpper))
        {
            return $"the currency is '{currency}' — write its three capital letters, as EUR";
        }

        var saws = StarterText.Saws(answers.Unit);
        foreach (var (kind, key, text) in new[] { ("bar saw", "kerf", answers.BarKerf), ("plate saw", "kerf", answers.PlateKerf), ("bar saw", "shortest_held", answers.Vise) })
        {
            if (text.Trim() is not { Length: > 0 } value)
            {
                continue;
            }

            if (value == None && key == "kerf")
            {
                saws = WithoutSaw(saws, kind);
            }
            else if (LengthText.Read(value, answers.Unit) is { Value: { } length } && length > Length.Zero)
            {
                saws = WithValue(saws, kind, key, TomlText.Quoted(value));
            }
            else
            {
                return $"the {key.Replace('_', ' ')} of the {kind} is '{value}' — write a length above zero, as 1.5 or 1/16 in";
            }
        }

        if (!saws.Contains("[[saw]]", StringComparison.Ordinal))
        {
            return "there is no saw — give one its kerf";
        }

        var unit = answers.Unit == LengthUnit.Inch ? "in" : "mm";
        List<(string Name, string Text)> files = [("shop.toml", ShopText(unit, currency)), ("saws.toml", saws), ("suppliers.toml", SuppliersText(answers.Suppliers))];
        try
        {
            Directory.CreateDirectory(folder);
            WholeFile.WriteAll(folder, files.Select(file => (file.Name, Encoding.UTF8.GetBytes(file.Text.ReplaceLineEndings("\n")))));
            if (answers.Example)
            {
                var job = Path.Combine(folder, "first-job");
                Directory.CreateDirectory(job);
                WholeFile.WriteAll(job, [("parts.csv", Encoding.UTF8.GetBytes(Parts(unit))), ("job.toml", Encoding.UTF8.GetBytes(JobText(unit, currency)))]);
            }

            return "";
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return $"{folder}: {problem.Message}";
        }
    }

    private static string ShopText(string unit, string currency) => string.Create(CultureInfo.InvariantCulture, $"""
        # The shop: what a new job begins with. Lines that begin with # are comments.
        unit = "{unit}"                 # of bare numbers; 1/2 in, 3 m and the like may be written anywhere
        currency = "{currency}"
        paper = "{(unit == "in" ? "letter" : "a4")}"                # of the sheets

        [shop]                      # who orders: printed on the orders
        name = ""
        address = []
        contact = ""
        # desk = "http://192.168.1.20:8443"   # where 'nest desk --share --share-port 8443' answers phones: the cut sheet then has a code to scan

        # [columns]                 # heads of your lists, for all jobs of this shop: take away the # of both lines
        # "Qty / set" = "quantity"
        # [material_names]          # and what your lists call a material
        # "alu" = "6082-T6"

        """);

    private static string SuppliersText(ImmutableArray<string> names)
    {
        var text = new StringBuilder("# Who sells to you: a [[supplier]] for each. All but the name may be left out (stock/README.md).\n# While none has a price list, jobs are planned on the starter's demo prices, which are invented.\n");
        foreach (var name in names.Select(name => name.Trim()).Where(name => name.Length > 0).Distinct(StringComparer.OrdinalIgnoreCase).Take(MostSuppliers))
        {
            text.Append($"""

                [[supplier]]
                name = {TomlText.Quoted(name)}
                # price_list = "prices.csv"   # beside this file: id,form,material,thickness,width,length,price
                # minimum_order = 0           # a smaller order pays up to it
                # delivery = 0
                # lead_days = 3
                # email = ""

                """.ReplaceLineEndings("\n"));
        }

        return text.ToString();
    }

    private static string Parts(string unit) => unit == "in"
        ? "# Invented parts: put yours in their place.\npart,material,length,width,thickness,quantity,forms\nbracket,6061-T6,3.5,2.25,0.3,12,any\ncover,6061-T6,7,4.5,0.2,4,plate\nlink,A36,8.5,1.25,0.4,6,flat bar\n"
        : "# Invented parts: put yours in their place.\npart,material,length,width,thickness,quantity,forms\nbracket,6082-T6,90,60,8,12,any\ncover,6082-T6,180,120,5,4,plate\nlink,S235JR,220,30,10,6,flat bar\n";

    private static string JobText(string unit, string currency) => string.Create(CultureInfo.InvariantCulture, $"""
        # A job to look at: parts and prices are invented.
        name = "First job"
        unit = "{unit}"
        currency = "{currency}"
        batch = 1                   # sets of the parts

        parts = "parts.csv"
        saws = "../saws.toml"
        suppliers = "../suppliers.toml"

        """).ReplaceLineEndings("\n");

    private static string WithoutSaw(string saws, string kind) => string.Join("[[saw]]", Blocks(saws).Where((block, at) => at == 0 || !Is(block, kind)));

    /// <summary>The first line of a setting in the block of a kind of saw, its remark kept.</summary>
    private static string WithValue(string saws, string kind, string key, string value) => string.Join("[[saw]]", Blocks(saws).Select((block, at) => at == 0 || !Is(block, kind)
        ? block
        : string.Join('\n', block.Split('\n').Select(line => !line.StartsWith(key + " = ", StringComparison.Ordinal) ? line
            : line.IndexOf('#', StringComparison.Ordinal) is > 0 and var remark ? $"{key} = {value}".PadRight(remark) + line[remark..] : $"{key} = {value}"))));

    private static string[] Blocks(string saws) => saws.Split("[[saw]]");

    private static bool Is(string block, string kind) => block.Contains($"kind = \"{kind}\"", StringComparison.Ordinal);
}
