using Nest.Data.Tables;

namespace Nest.Data.Parts;

/// <summary>A parts list as it was read.</summary>
internal sealed record PartRows(IReadOnlyList<PartRow> Rows, TableUnderstanding Understanding);
