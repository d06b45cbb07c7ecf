namespace Nest.Data.Models;

/// <summary>Ends the reading of a model file; <see cref="ModelReader"/> makes a finding of it.</summary>
/// <remarks>Used only within the readers: a fault deep in a file has no other way out that keeps them short.</remarks>
internal sealed class ModelFault(string rule, string message, string advice, int row = 0) : Exception(message)
{
    public string Rule { get; } = rule;

    public string Advice { get; } = advice;

    public int Row { get; } = row;

    public static ModelFault Damaged(string what, int row = 0) => new("model-damaged", what, "export the model again", row);

    public static ModelFault TooMuch(string what) => new("model-too-large", what, "export it coarser, or in several files");
}
