namespace Nest.Output.Files;

/// <summary>A table for files: texts, whole numbers, decimals, and null for nothing, in columns with a head.</summary>
public sealed record Sheet(string Name, IReadOnlyList<string> Heads, IReadOnlyList<object?[]> Rows);
