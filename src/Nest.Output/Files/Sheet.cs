namespace Nest.Output.Files;

/// <summary>A table for files: texts, whole numbers and decimals, in columns with a head.</summary>
internal sealed record Sheet(string Name, IReadOnlyList<string> Heads, IReadOnlyList<object[]> Rows);
