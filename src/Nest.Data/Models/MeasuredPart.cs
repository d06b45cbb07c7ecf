using Nest.Core.Solids;

namespace Nest.Data.Models;

/// <summary>A part of a model with its boxes.</summary>
/// <param name="File">The model's file, as it was named.</param>
/// <param name="Unit">The model's unit and how it is known.</param>
/// <param name="Plate">A flat outline, raised by a given thickness.</param>
public sealed record MeasuredPart(string File, string Unit, ModelPart Part, BodyBoxes Boxes, bool Plate, bool InInches)
{
    /// <summary>The size that the parts list took of it.</summary>
    public ModelSize? Size { get; init; }
}
