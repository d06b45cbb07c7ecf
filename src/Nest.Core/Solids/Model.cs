using System.Collections.Immutable;

namespace Nest.Core.Solids;

/// <summary>What a model file holds: parts with their counts, in millimetres.</summary>
public sealed record Model
{
    /// <summary>Name of the file as it was given.</summary>
    public required string File { get; init; }

    /// <summary>What kind of file: STL, 3MF, OBJ, STEP, DXF.</summary>
    public required string Format { get; init; }

    /// <summary>Millimetres of one unit of the file.</summary>
    public required double MillimetresPerUnit { get; init; }

    /// <summary>Name of the unit, and how it is known: "mm (the file says so)".</summary>
    public required string Unit { get; init; }

    /// <summary>Each different part once.</summary>
    public required ImmutableArray<ModelPart> Parts { get; init; }

    /// <summary>Where each piece of an assembly stands; one per piece.</summary>
    public ImmutableArray<ModelInstance> Instances { get; init; } = [];
}

/// <summary>A part of a model.</summary>
/// <param name="Name">From the file, or the file's own name.</param>
/// <param name="Count">Pieces of it in the model.</param>
/// <param name="Body">Its geometry along its own axes.</param>
public sealed record ModelPart(string Name, int Count, Body Body);

/// <summary>One piece of an assembly.</summary>
/// <param name="Part">Number of its part, from 0.</param>
/// <param name="Name">Of the piece; may be empty.</param>
public sealed record ModelInstance(int Part, string Name, Placing Placing);
