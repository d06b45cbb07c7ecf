namespace Nest.Data.Csv;

/// <summary>A column that a table may have: its name, whether it must be there, and other names for it. Names are compared without
/// case, spaces, hyphens and underscores.</summary>
internal sealed record Column(string Name, bool Required, params string[] Synonyms)
{
    /// <summary>Names that it had and that read the other way round: refused, with the new one.</summary>
    public string[] Was { get; init; } = [];

    public bool Answers(string folded) => Words.Fold(Name) == folded || Synonyms.Any(synonym => Words.Fold(synonym) == folded);
}
