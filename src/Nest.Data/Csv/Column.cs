namespace Nest.Data.Csv;

/// <summary>What the cells of a column hold.</summary>
internal enum ColumnKind
{
    Text,

    /// <summary>A length.</summary>
    Length,

    /// <summary>Several lengths in one text.</summary>
    Size,

    /// <summary>A whole number.</summary>
    Whole,

    /// <summary>A number or an amount of money.</summary>
    Number,
}

/// <summary>A column that a table may have: its name, whether it must be there, and other names for it. Names are compared without
/// case, accents, spaces and punctuation.</summary>
internal sealed record Column(string Name, bool Required, params string[] Synonyms)
{
    private readonly HashSet<string> folded = [Words.Fold(Name), .. Synonyms.Select(Words.Fold).Where(name => name.Length > 0)];

    public ColumnKind Kind { get; init; }

    /// <summary>A column that makes this one needless where a table has it; null: there is none.</summary>
    public string? Unless { get; init; }

    /// <summary>Names that it had and that read the other way round: refused, with the new one.</summary>
    public string[] Was { get; init; } = [];

    /// <summary>Whether it helps to tell a row of the table from a remark below it.</summary>
    public bool Key { get; init; }

    /// <summary>Whether of several heads that name it the one that stands first among its names is read, and the others not.</summary>
    public bool Ranked { get; init; }

    /// <summary>What a cell of this column looks like, where that shows a column by its contents; null: nothing does.</summary>
    public Func<string, bool>? Looks { get; init; }

    /// <summary>Place of a name among the column's names, from 0; large when it is none.</summary>
    public int Rank(string foldedName) => Words.Fold(Name) == foldedName ? 0 : Array.FindIndex(Synonyms, name => Words.Fold(name) == foldedName) is >= 0 and var at ? at + 1 : int.MaxValue;

    public bool Answers(string foldedName) => folded.Contains(foldedName);

    // By name: a set compares by reference, and columns are few.
    public bool Equals(Column? other) => other is not null && Name == other.Name;

    public override int GetHashCode() => Name.GetHashCode(StringComparison.Ordinal);
}
