using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Solids;
using Nest.Data.Models.Dxf;
using Nest.Data.Models.Step;

namespace Nest.Data.Models;

/// <summary>What a reader must be told where a file is silent.</summary>
/// <param name="Unit">Unit of the file's numbers; null: the file says it, or it is inferred and told.</param>
/// <param name="Thickness">Of a flat outline (DXF).</param>
public sealed record ModelChoices(string? Unit = null, Length? Thickness = null);

/// <summary>Reads a model file: STL, 3MF, OBJ, STEP, DXF. Whatever a file holds, the answer is a model or findings, never an exception.</summary>
public static class ModelReader
{
    /// <summary>Single precision: 24 binary digits.</summary>
    internal const double SingleDigits = 1.2e-7;

    /// <summary>Text files are written with six digits after the point or more; taken as nine digits in all.</summary>
    internal const double TextDigits = 1e-9;

    private static readonly string[] Kinds = [".stl", ".3mf", ".obj", ".step", ".stp", ".dxf"];

    /// <summary>Whether the name ends like that of a model file.</summary>
    public static bool IsModel(string path) => Kinds.Contains(Path.GetExtension(path).ToLowerInvariant());

    public static ReadResult<Model> Read(string path, ModelChoices choices)
    {
        var findings = new FindingList();
        return findings.Result(Read(path, choices, findings));
    }

    /// <summary>The model of a stream that can be read from the start; for tests of hostile input.</summary>
    internal static ReadResult<Model> Read(Stream stream, string name, ModelChoices choices)
    {
        var findings = new FindingList();
        return findings.Result(Guarded(name, findings, () => Parse(stream, name, choices, findings)));
    }

    internal static Model? Read(string path, ModelChoices choices, FindingList findings) => Guarded(path, findings, () =>
    {
        if (Directory.Exists(path))
        {
            throw new ModelFault("file-is-folder", "this is a folder, not a model", "name the file itself");
        }

        using var stream = Open(path);
        return NamedFile.Steady(stream, whole => Parse(whole, path, choices, findings));
    });

    private static Model? Guarded(string path, FindingList findings, Func<Model?> read)
    {
        try
        {
            return read();
        }
        catch (FileChangedException)
        {
            findings.Error("file-changed", new(path), FileChangedException.Cause, FileChangedException.Remedy);
        }
        catch (ModelFault fault)
        {
            findings.Error(fault.Rule, new(path, fault.Row), fault.Message, fault.Advice);
        }
        catch (Exception problem) when (problem is FileNotFoundException or DirectoryNotFoundException)
        {
            findings.Error("file-missing", new(path), "the model is not there", "check the name of the file");
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException)
        {
            findings.Error("file-unreadable", new(path), $"the model cannot be read: {ModelLimits.CleanName(problem.Message)}", "check the name and the rights of the file");
        }

        return null;
    }

    // A named pipe without a writer would never open, so opening has a limit; a pipe cannot be read twice and is refused.
    private static FileStream Open(string path)
    {
        var stream = NamedFile.Open(path) ?? throw new ModelFault("file-is-pipe", "the file does not open", "name a file on disk, not a pipe");
        if (!stream.CanSeek)
        {
            stream.Dispose();
            throw new ModelFault("file-is-pipe", "this is a pipe or device, not a file", "save the model as a file and name that");
        }

        return stream;
    }

    private static Model? Parse(Stream stream, string path, ModelChoices choices, FindingList findings)
    {
        var kind = Path.GetExtension(path).ToLowerInvariant();
        var most = kind switch { ".step" or ".stp" => ModelLimits.StepBytes, ".dxf" => ModelLimits.DxfBytes, _ => ModelLimits.MeshBytes };
        if (stream.Length == 0)
        {
            throw new ModelFault("file-empty", "the file is empty", "check the name of the file, or export the model again");
        }

        if (stream.Length > most)
        {
            throw ModelFault.TooMuch($"the file has {stream.Length >> 20} MiB, more than {most >> 20}");
        }

        ModelUnit? given = null;
        if (choices.Unit is { } word)
        {
            given = ModelUnits.Of(word) ?? throw new ModelFault("unit-unknown", $"there is no unit '{ModelLimits.CleanName(word)}'", $"write {ModelUnits.Words}");
        }

        var name = ModelLimits.CleanName(Path.GetFileNameWithoutExtension(path));
        var model = kind switch
        {
            ".stl" => Stl(stream, path, name, given, findings),
            ".obj" => Obj(stream, path, name, given, findings),
            ".3mf" => ThreeMf(stream, path, name, given, findings),
            ".dxf" => Dxf(stream, path, name, given, choices.Thickness, findings),
            ".step" or ".stp" => Step(stream, path, name, given, findings),
            _ => throw new ModelFault("file-kind", "this is no model", $"name a file that ends in {string.Join(", ", Kinds)}"),
        };
        foreach (var part in model.Parts)
        {
            Remark(path, part, findings);
        }

        return model;
    }

    private static Model Stl(Stream stream, string path, string name, ModelUnit? given, FindingList findings)
    {
        var (mesh, note) = StlFile.Read(stream);
        var (unit, told) = UnitOf([mesh], given, note, path, findings);
        return new()
        {
            File = path, Format = "STL", MillimetresPerUnit = unit.Millimetres, Unit = told,
            Parts = [new(name, 1, MeshOf(mesh, unit.Millimetres, SingleDigits))],
        };
    }

    private static Model Obj(Stream stream, string path, string name, ModelUnit? given, FindingList findings)
    {
        var (objects, note) = ObjFile.Read(stream);
        if (objects.Count == 0)
        {
            throw ModelFault.Damaged("the file has no face");
        }

        var (unit, told) = UnitOf(objects.Select(entry => entry.Mesh), given, note, path, findings);
        return new()
        {
            File = path, Format = "OBJ", MillimetresPerUnit = unit.Millimetres, Unit = told,
            Parts = [.. objects.Select((entry, number) => new ModelPart(
                objects.Count == 1 ? name : ModelLimits.CleanName(entry.Name) is { Length: > 0 } own ? own : $"{name} {number + 1}",
                1, MeshOf(entry.Mesh, unit.Millimetres, TextDigits)))],
        };
    }

    private static Model ThreeMf(Stream stream, string path, string name, ModelUnit? given, FindingList findings)
    {
        var (unit, parts, instances) = ThreeMfFile.Read(stream);
        if (given is { } other && other != unit)
        {
            findings.Note("unit-in-file", new(path), $"the file says {unit.Name}, so the given {other.Name} is not used");
        }

        return new()
        {
            File = path, Format = "3MF", MillimetresPerUnit = unit.Millimetres, Unit = $"{unit.Name} (the file says so)",
            Parts = [.. parts.Select((part, number) => part.Name.Length > 0 ? part : part with { Name = parts.Count == 1 ? name : $"{name} {number + 1}" })],
            Instances = [.. instances],
        };
    }

    private static Model Step(Stream stream, string path, string name, ModelUnit? given, FindingList findings)
    {
        var (unit, parts, instances) = StepFile.Read(stream, name);
        if (given is { } other && other != unit)
        {
            findings.Note("unit-in-file", new(path), $"the file says {unit.Name}, so the given {other.Name} is not used");
        }

        return new()
        {
            File = path, Format = "STEP", MillimetresPerUnit = unit.Millimetres, Unit = $"{unit.Name} (the file says so)",
            Parts = [.. parts], Instances = [.. instances],
        };
    }

    private static Model Dxf(Stream stream, string path, string name, ModelUnit? given, Length? thickness, FindingList findings)
    {
        var (unit, told, parts) = DxfOutlines.Read(stream, path, name, given, thickness is { } thick ? (double)thick.ToMillimetres() : null, findings);
        return new() { File = path, Format = "DXF", MillimetresPerUnit = unit.Millimetres, Unit = told, Parts = [.. parts] };
    }

    private static (ModelUnit Unit, string Told) UnitOf(IEnumerable<MeshBuilder> meshes, ModelUnit? given, string note, string path, FindingList findings)
    {
        var largest = meshes.Max(mesh => mesh.LargestSide());
        if (given is { } unit)
        {
            return (unit, $"{unit.Name} (as given)");
        }

        if (ModelUnits.Guess(largest, note) is not { } guess)
        {
            throw new ModelFault(
                "unit-open", $"the file names no unit, and {largest.ToString("G4", System.Globalization.CultureInfo.InvariantCulture)} long is no usual size in mm or inches",
                $"say it with --model-unit: {ModelUnits.Words}");
        }

        findings.Note("unit-assumed", new(path), $"unit {guess.Unit.Name}, {guess.Reason}", "say it with --model-unit if that is wrong");
        return (guess.Unit, $"{guess.Unit.Name} ({guess.Reason})");
    }

    /// <summary>The body of a mesh in millimetres; a fault where it has no size that a part can have.</summary>
    internal static MeshBody MeshOf(MeshBuilder mesh, double scale, double digits)
    {
        if (mesh.LargestSide() * scale > ModelLimits.Farthest || mesh.Farthest() * scale > ModelLimits.Farthest)
        {
            throw ModelFault.Damaged("a coordinate lies more than a kilometre away");
        }

        return mesh.Build(scale, digits) ?? throw ModelFault.Damaged("the file has no triangle with an area");
    }

    private static void Remark(string path, ModelPart part, FindingList findings)
    {
        if (part.Body is not MeshBody mesh)
        {
            if (part.Body.NoVolume.Length > 0)
            {
                findings.Note("solid-open", new(path), $"'{part.Name}': {part.Body.NoVolume}, so its volume and mass are not known", "its box is; mend the model to get the mass");
            }

            return;
        }

        if (!mesh.Closed || mesh.NoVolume.Length > 0)
        {
            findings.Note("mesh-open", new(path), $"'{part.Name}': {mesh.NoVolume}, so its volume and mass are not known", "its box is; mend the model to get the mass");
        }
        else if (mesh.TurnedOver > 0)
        {
            findings.Note("mesh-turned", new(path), $"'{part.Name}': {mesh.TurnedOver} triangles are turned over; they were turned right for the volume");
        }
        else if (mesh.InsideOut)
        {
            findings.Note("mesh-inside-out", new(path), $"'{part.Name}' is inside out; its volume is taken as it is outside in");
        }

        if (mesh.Degenerate > 0)
        {
            findings.Note("mesh-degenerate", new(path), $"'{part.Name}': {mesh.Degenerate} triangles without area are left out");
        }
    }
}
