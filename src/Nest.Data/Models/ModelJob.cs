using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Jobs;
using Nest.Data.Parts;

namespace Nest.Data.Models;

/// <summary>A job of models alone: one model, or a folder of models with or without a table of quantities, on the starter catalogue.</summary>
internal sealed class ModelJob(string path, ModelJobChoices choices, FindingList findings)
{
    /// <summary>Whether the path is a model, or a folder that is no job and holds models.</summary>
    public static bool IsOne(string path) => Directory.Exists(path)
        ? ModelShelf.ModelsIn(path).Count > 0
        : ModelReader.IsModel(path);

    public JobInput? Read()
    {
        var folder = Directory.Exists(path) ? path : Path.GetDirectoryName(path) ?? "";
        if (choices.Quantities is not null && !Directory.Exists(path))
        {
            findings.Error("quantities-without-folder", new(path), "a table of quantities belongs to a folder of models", "name the folder, or leave --quantities out");
            return null;
        }

        if (ChoicesOf(choices, path, findings) is not { } with || Table(folder) is not { } table)
        {
            return null;
        }

        var shelf = new ModelShelf(folder, with, findings) { Material = choices.Material };
        if (choices.Material is null && !table.Has("material"))
        {
            findings.Error("material-open", new(path), "nothing says of what material the parts are", "say it with --material, or in a column 'material' of the table of quantities");
            return null;
        }

        var unit = PartsReader.IsInInches(table) || FirstInInches(table, shelf) ? LengthUnit.Inch : LengthUnit.Millimetre;
        if (findings.Errors > 0)
        {
            return null;
        }

        var name = Path.GetFileNameWithoutExtension(Path.TrimEndingDirectorySeparator(Path.GetFullPath(path)));
        return new JobFile(path, findings).Build(
            table, new JobHead { Name = name, Unit = unit, Currency = unit == LengthUnit.Inch ? "USD" : "EUR" }, shelf);
    }

    /// <summary>Unit and thickness of the choices; null after a finding.</summary>
    public static ModelChoices? ChoicesOf(ModelJobChoices choices, string path, FindingList findings)
    {
        if (choices.Unit is { } word && ModelUnits.Of(word) is null)
        {
            findings.Error("unit-unknown", new(path), $"there is no unit '{ModelLimits.CleanName(word)}'", $"write {ModelUnits.Words}");
            return null;
        }

        if (choices.Thickness is not { } text)
        {
            return new(choices.Unit);
        }

        var unit = choices.Unit is { } given && ModelUnits.Of(given) is { } known ? ModelUnits.ShopUnit(known) : LengthUnit.Millimetre;
        var reading = LengthText.Read(text, unit, '.');
        if (reading.Value is not { } thickness || thickness <= Length.Zero || thickness > CsvRow.LongestSize)
        {
            findings.Error("thickness-unreadable", new(path), $"the thickness '{ModelLimits.CleanName(text)}' is no length above zero", "write it with its unit, as 6mm or 1/4in");
            return null;
        }

        return new(choices.Unit, thickness);
    }

    private CsvTable? Table(string folder)
    {
        if (choices.Quantities is { } list)
        {
            return TextFile.Read(list, "a table of quantities", findings) is { } text ? PartsReader.Table(text, list, choices.Material is not null, findings) : null;
        }

        var files = Directory.Exists(path) ? ModelShelf.ModelsIn(folder).Select(file => Path.GetFileName(file)) : [Path.GetFileName(path)];
        var pieces = (choices.Pieces ?? 1).ToString(CultureInfo.InvariantCulture);
        return CsvTable.Of(
            files.Select(file => new[] { file, pieces, choices.Lie ?? "" }).Prepend([ModelRows.Model, "quantity", ModelRows.LieColumn]),
            path, PartsReader.ModelColumns(material: true), findings);
    }

    private static bool FirstInInches(CsvTable table, ModelShelf shelf)
    {
        foreach (var (line, cells) in table.Rows)
        {
            var row = new CsvRow(table, line, cells, new(LengthUnit.Millimetre, '.'), new());
            if (row.Has(ModelRows.Model))
            {
                return shelf.Find(row.Text(ModelRows.Model), row.At(ModelRows.Model), row.Size("thickness")) is [var first, ..] && first.InInches;
            }
        }

        return false;
    }
}
