namespace Nest.Data.Models;

/// <summary>What the command line says of models: of a model file, a folder of models, or models that a parts list names.</summary>
public sealed record ModelJobChoices
{
    /// <summary>Unit of models that name none: mm, in, cm …</summary>
    public string? Unit { get; init; }

    /// <summary>Thickness of drawings, as text with or without its unit.</summary>
    public string? Thickness { get; init; }

    /// <summary>A parts list whose models lie in the folder that is planned.</summary>
    public string? Quantities { get; init; }

    /// <summary>Pieces of a single model.</summary>
    public int? Pieces { get; init; }

    /// <summary>Which way parts may lie: any, flat, as given.</summary>
    public string? Lie { get; init; }
}
