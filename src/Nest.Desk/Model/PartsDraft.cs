using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Data;
using Nest.Data.Tables;

namespace Nest.Desk.Model;

/// <summary>A list that was dropped or pasted: how it was understood, before a job is made of it.</summary>
internal sealed record PartsDraft(IReadOnlyList<TableUnderstanding> Tables, Job? Job, IReadOnlyList<PartRow> Rows, ImmutableArray<Finding> Findings)
{
    /// <param name="file">Its name, for messages.</param>
    public static PartsDraft Of(byte[] bytes, string file, TableChoices choices)
    {
        using var stream = new MemoryStream(bytes, writable: false);
        var read = JobReader.Inspect(stream, file, choices);
        return new([.. read.Tables], read.Input?.Job, read.Input is { } input ? PartRow.Of(input.Job) : [], read.Findings);
    }
}
