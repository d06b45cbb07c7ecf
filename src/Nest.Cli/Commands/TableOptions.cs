using System.Collections.Immutable;
using System.CommandLine;
using Nest.Core.Quantities;
using Nest.Data.Tables;

namespace Nest.Cli.Commands;

/// <summary>What a user may say of a table, where it is not found out or found out wrongly.</summary>
internal sealed class TableOptions
{
    private readonly Option<string?> sheet = new("--sheet") { Description = "Sheet of a workbook, by name or number. Default: the first with a head that is known.", HelpName = "NAME" };
    private readonly Option<string?> mark = new("--decimal") { Description = "Decimal mark of the numbers in the table. Default: found from all of them.", HelpName = "comma|point" };
    private readonly Option<string?> unit = new("--unit") { Description = "Unit of numbers where neither cell, head nor sheet names one.", HelpName = "mm|in" };
    private readonly Option<string[]> columns = Pairs("--columns", "A head and what it is: \"Qty / set = quantity\"; \"Stock = none\" leaves a column out. In a job file: [columns].", "\"HEAD = COLUMN\"");
    private readonly Option<string[]> materials = Pairs("--material", "A material as the list has it and what it is: \"brass = C360\" (in a job file: [material_names]); or the material of parts for which no list names one.", "\"[NAME =] MATERIAL\"", oneSide: true);
    private readonly ModelOptions models;

    /// <param name="withUnit">Whether the command has no other option for the unit.</param>
    public TableOptions(Command command, bool withUnit = true)
    {
        mark.AcceptOnlyFromAmong("comma", "point");
        unit.AcceptOnlyFromAmong("mm", "in");
        models = new(command);
        foreach (var option in withUnit ? (Option[])[sheet, mark, unit, columns, materials] : [sheet, mark, columns, materials])
        {
            command.Add(option);
        }
    }

    public TableChoices Of(ParseResult parsed) => new()
    {
        Sheet = parsed.GetValue(sheet),
        DecimalMark = parsed.GetValue(mark) switch { "comma" => ',', "point" => '.', _ => null },
        Unit = parsed.GetValue(unit) switch { "in" => LengthUnit.Inch, "mm" => LengthUnit.Millimetre, _ => null },
        Columns = Read(parsed.GetValue(columns)),
        Materials = Read(parsed.GetValue(materials)),
        Material = parsed.GetValue(materials)?.LastOrDefault(text => TableChoices.Pair(text) is null),
        Models = models.Of(parsed),
    };

    private static ImmutableDictionary<string, string> Read(string[]? pairs) =>
        (pairs ?? []).Select(TableChoices.Pair).OfType<(string Left, string Right)>().GroupBy(pair => pair.Left).ToImmutableDictionary(group => group.Key, group => group.Last().Right);

    private static Option<string[]> Pairs(string name, string description, string helpName, bool oneSide = false)
    {
        var option = new Option<string[]>(name) { Description = description, HelpName = helpName };
        option.Validators.Add(result =>
        {
            foreach (var text in result.Tokens.Select(token => token.Value).Where(text => TableChoices.Pair(text) is null && !(oneSide && text.Trim().Length > 0 && !text.Contains('='))))
            {
                result.AddError($"{name} wants {helpName} with both sides, not '{text}'.");
            }
        });
        return option;
    }
}
