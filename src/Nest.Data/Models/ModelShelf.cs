using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Solids;
using Nest.Data.Csv;

namespace Nest.Data.Models;

/// <summary>The models that a parts list names: each is read and measured once.</summary>
/// <param name="folder">Where names without a full path are looked for.</param>
/// <param name="choices">What is said of all models.</param>
internal sealed class ModelShelf(string folder, ModelChoices choices, FindingList findings)
{
    private readonly Dictionary<(string Path, Length? Thickness), ImmutableArray<MeasuredPart>?> read = [];

    /// <summary>Models beside a list, or in another folder.</summary>
    public static ModelShelf Beside(CsvTable table, FindingList findings, string? folder = null) => new(
        folder ?? Path.GetDirectoryName(table.File) ?? "", table.Has(ModelRows.Model) ? ModelJob.ChoicesOf(table.Choices, table.File, findings) ?? new() : new(), findings);

    /// <summary>Name of a part: of a model with several the row's name and the part's own; a name that another model has already gets the file's behind it.</summary>
    public string NameFor(string row, MeasuredPart model, int parts)
    {
        var name = row.Length == 0 ? model.Part.Name : parts == 1 ? row : $"{row} {model.Part.Name}";
        return row.Length == 0 && Used.TryGetValue(name, out var other) && !ReferenceEquals(other.Part, model.Part)
            ? $"{name} ({ModelLimits.CleanName(Path.GetFileName(model.File))})"
            : name;
    }

    /// <summary>Parts that rows took, by the part's name.</summary>
    public Dictionary<string, MeasuredPart> Used { get; } = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>The parts of a model; null after a finding.</summary>
    /// <param name="name">As in the list; its ending may be left out where one model alone has the name.</param>
    /// <param name="where">The list's cell.</param>
    public ImmutableArray<MeasuredPart>? Find(string name, SourcePosition where, Length? thickness)
    {
        if (Resolve(name, where) is not { } path)
        {
            return null;
        }

        var key = (path, thickness ?? choices.Thickness);
        if (!read.TryGetValue(key, out var parts))
        {
            read[key] = parts = Measure(path, choices with { Thickness = key.Item2 });
        }

        return parts;
    }

    /// <summary>Notes which parts are the same or mirror images of each other.</summary>
    public void TellAlike()
    {
        var parts = Used.OrderBy(entry => entry.Key, StringComparer.Ordinal).Take(MostCompared).ToList();
        var known = new HashSet<string>(StringComparer.Ordinal);
        for (var i = 0; i < parts.Count; i++)
        {
            for (var j = i + 1; j < parts.Count; j++)
            {
                if (known.Contains(parts[j].Key) || SameBody.Compare(parts[i].Value.Part.Body, parts[j].Value.Part.Body) is not (not Likeness.Different and var likeness))
                {
                    continue;
                }

                known.Add(parts[j].Key);
                findings.Note(
                    likeness == Likeness.Same ? "models-same" : "models-mirrored", new(parts[j].Value.File),
                    likeness == Likeness.Same
                        ? $"'{parts[j].Key}' is the same part as '{parts[i].Key}'"
                        : $"'{parts[j].Key}' is the mirror image of '{parts[i].Key}': their blanks may be equal, the parts are not");
            }
        }
    }

    private const int MostCompared = 200;

    /// <summary>Turns of hulls that all searches for boxes of a file look at.</summary>
    private const long MostTurns = 10_000_000;

    private string? Resolve(string name, SourcePosition where)
    {
        if (name.Contains('\0', StringComparison.Ordinal) || name.Length > 1000)
        {
            findings.Error("model-name", where, "this is no name of a file", "name the model's file");
            return null;
        }

        var path = folder.Length > 0 ? Path.Combine(folder, name) : name;
        if (ModelReader.IsModel(path))
        {
            if (File.Exists(path))
            {
                return path;
            }

            findings.Error("model-missing", where, $"the model '{ModelLimits.CleanName(name)}' is not there", Nearby(path));
            return null;
        }

        var found = ModelsIn(Path.GetDirectoryName(path) ?? "").Where(file => Path.GetFileNameWithoutExtension(file).Equals(Path.GetFileName(path), StringComparison.OrdinalIgnoreCase)).ToList();
        switch (found.Count)
        {
            case 1:
                return found[0];
            case 0:
                findings.Error("model-missing", where, $"there is no model '{ModelLimits.CleanName(name)}'", Nearby(path));
                return null;
            default:
                findings.Error("model-several", where, $"'{ModelLimits.CleanName(name)}' may be {string.Join(" or ", found.Select(Path.GetFileName))}", "write the name with its ending");
                return null;
        }
    }

    /// <summary>Models of a folder by name; empty where it cannot be read.</summary>
    public static IReadOnlyList<string> ModelsIn(string folder)
    {
        try
        {
            return [.. Directory.EnumerateFiles(folder.Length == 0 ? "." : folder).Where(ModelReader.IsModel).Select(file => folder.Length == 0 ? Path.GetFileName(file) : file).Order(StringComparer.Ordinal).Take(ModelLimits.Parts)];
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return [];
        }
    }

    private static string Nearby(string path)
    {
        var names = ModelsIn(Path.GetDirectoryName(path) ?? "").Select(file => Path.GetFileName(file)).ToList();
        return Near.Hint(Path.GetFileName(path), names) is { Length: > 0 } hint ? hint : "check the name, and the folder: models are looked for beside the list";
    }

    private ImmutableArray<MeasuredPart>? Measure(string path, ModelChoices with)
    {
        if (ModelReader.Read(path, with, findings) is not { } model)
        {
            return null;
        }

        var parts = ImmutableArray.CreateBuilder<MeasuredPart>();
        // A file of very many parts must not take very many times as long.
        var work = Math.Clamp(MostTurns / Math.Max(1, model.Parts.Length), 20_000, BoxSearch.MostWork);
        foreach (var part in model.Parts)
        {
            if (BoxSearch.Of(part.Body, work) is not { } boxes)
            {
                findings.Error("model-flat", new(path), $"'{part.Name}' has no thickness", "export a solid, not a sheet");
                return null;
            }

            parts.Add(new(path, model.Unit, part, boxes, model.Format == "DXF", Math.Abs(model.MillimetresPerUnit % 25.4) < 1e-9));
        }

        return parts.ToImmutable();
    }
}
