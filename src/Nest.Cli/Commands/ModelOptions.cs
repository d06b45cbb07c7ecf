using System.CommandLine;
using Nest.Data.Models;

namespace Nest.Cli.Commands;

/// <summary>What a command takes about models: of a model file, a folder of models, or models that a parts list names.</summary>
internal sealed class ModelOptions
{
    public const string InputHelp = "A job file (.toml), a bare parts list (.csv, .xlsx, .ods), - for a list that is piped in, a model (.stl, .3mf, .obj, .step, .dxf), or a folder of models.";

    private readonly Option<string?> unit = new("--model-unit") { Description = "Unit of models that name none (STL, OBJ, DXF): mm, cm, m, in, ft or micron.", HelpName = "UNIT" };
    private readonly Option<string?> thickness = new("--thickness") { Description = "Thickness of parts drawn as outlines (DXF), as 6mm or 1/4in.", HelpName = "LENGTH" };
    private readonly Option<string?> quantities = new("--quantities")
    {
        Description = "With a folder of models: a parts list whose column 'model' names them, with their quantities.", HelpName = "FILE",
    };

    private readonly Option<int?> pieces = new("--pieces") { Description = "Pieces of a model. Default: 1.", HelpName = "N" };
    private readonly Option<string?> lie = new("--lie") { Description = "Which way models may lie in their stock: any, flat (on a flat of the part) or as-given (along the model's axes).", HelpName = "WAY" };

    public ModelOptions(Command command)
    {
        foreach (var option in new Option[] { unit, thickness, quantities, pieces, lie })
        {
            command.Add(option);
        }
    }

    public ModelJobChoices Of(ParseResult parsed) => new()
    {
        Unit = parsed.GetValue(unit), Thickness = parsed.GetValue(thickness),
        Quantities = parsed.GetValue(quantities), Pieces = parsed.GetValue(pieces), Lie = parsed.GetValue(lie),
    };
}
