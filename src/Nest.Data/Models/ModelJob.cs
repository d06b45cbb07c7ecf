using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Jobs;
using Nest.Data.Parts;
using Nest.Data.Tables;

namespace Nest.Data.Models;

/// <summary>A job of models alone: one model, or a folder of models with or without a table of quantities, on the starter catalogue.</summary>
internal sealed class ModelJob(string path, TableChoices said, FindingList findings)
{
    /// <summary>Whether the path is a model, or a folder that is no job and holds models.</summary>
    public static bool IsOne(string path) => Directory.Exists(path)
        ? !File.Exists(Path.Combine(path, "job.toml")) && ModelShelf.ModelsIn(path).Count > 0
        : ModelReader.IsModel(path);

    public PartsReading Read()
    {
        var folder = Directory.Exists(path) ? path : Path.GetDirectoryName(path) ?? "";
        if (said.Models.Quantities is not null && !Directory.Exists(path))
        {
            findings.Error("quantities-without-folder", new(path), "a table of quantities belongs to a folder of models", "name the folder, or leave --quantities out");
        }

        if (findings.Errors > 0 || ChoicesOf(said, path, findings) is not { } with || Table(folder) is not { } table)
        {
            return new([], null, findings.ToImmutable());
        }

        if (said.Material is null && !table.Has("material"))
        {
            findings.Error("material-open", new(path), "nothing says of what material the parts are", "say it with --material, or in a column 'material' of the table of quantities");
            return new([], null, findings.ToImmutable());
        }

        var models = new ModelShelf(folder, with, findings);
        var found = FoundUnit.Of(table, PartColumns.Sizes, null);
        var unit = found.Assumed ? FirstUnit(table, models) : found.Unit;
        if (findings.Errors > 0)
        {
            return new([], null, findings.ToImmutable());
        }

        var job = new JobFile(path, said, findings);
        var input = job.Build(
            table,
            new JobHead
            {
                Name = Path.GetFileNameWithoutExtension(Path.TrimEndingDirectorySeparator(Path.GetFullPath(path))), Unit = unit, NamesUnit = true,
                Currency = unit == LengthUnit.Inch ? "USD" : "EUR", Tables = said,
            },
            models);
        return new(job.Lists, findings.Errors == 0 ? input : null, findings.ToImmutable());
    }

    /// <summary>Unit and thickness of what is said; null after a finding.</summary>
    public static ModelChoices? ChoicesOf(TableChoices said, string path, FindingList findings)
    {
        var word = said.Models.Unit ?? (said.Unit switch { LengthUnit.Inch => "in", LengthUnit.Millimetre => "mm", _ => null });
        if (word is not null && ModelUnits.Of(word) is null)
        {
            findings.Error("unit-unknown", new(path), $"there is no unit '{ModelLimits.CleanName(word)}'", $"write {ModelUnits.Words}");
            return null;
        }

        if (said.Models.Thickness is not { } text)
        {
            return new(word);
        }

        var unit = word is not null && ModelUnits.Of(word) is { } known ? ModelUnits.ShopUnit(known) : LengthUnit.Millimetre;
        var reading = LengthText.Read(text, unit, '.');
        if (reading.Value is not { } thickness || thickness <= Length.Zero || thickness > CsvRow.LongestSize)
        {
            findings.Error("thickness-unreadable", new(path), $"the thickness '{ModelLimits.CleanName(text)}' is no length above zero", "write it with its unit, as 6mm or 1/4in");
            return null;
        }

        return new(word, thickness);
    }

    private CsvTable? Table(string folder)
    {
        if (said.Models.Quantities is { } list)
        {
            return CsvTable.ReadFile(list, "a table of quantities", PartsReader.Columns, said, findings);
        }

        var files = Directory.Exists(path) ? ModelShelf.ModelsIn(folder).Select(file => Path.GetFileName(file)!) : [Path.GetFileName(path)];
        var pieces = (said.Models.Pieces ?? 1).ToString(CultureInfo.InvariantCulture);
        var rows = files.Select(file => new[] { file, pieces, said.Models.Lie ?? "" }).Prepend([ModelRows.Model, "quantity", ModelRows.LieColumn])
            .Select(cells => new RawRow(0, [.. cells.Select(cell => new RawCell(cell))])).ToList();
        return CsvTable.Of(new(path, "models", rows), PartsReader.Columns, TableChoices.None with { Material = said.Material, Materials = said.Materials, Shop = said.Shop, DecimalMark = '.' }, findings);
    }

    private static LengthUnit FirstUnit(CsvTable table, ModelShelf models)
    {
        foreach (var (line, cells) in table.Rows)
        {
            var row = new CsvRow(table, line, cells, new(LengthUnit.Millimetre, null), new());
            if (row.Has(ModelRows.Model))
            {
                return models.Find(row.Text(ModelRows.Model), row.At(ModelRows.Model), row.Size("thickness")) is [{ InInches: true }, ..] ? LengthUnit.Inch : LengthUnit.Millimetre;
            }
        }

        return LengthUnit.Millimetre;
    }
}
