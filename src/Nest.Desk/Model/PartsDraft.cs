using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Data;
using Nest.Data.Models;
using Nest.Data.Tables;

namespace Nest.Desk.Model;

/// <summary>Lists and models that were dropped or pasted: how they were understood, before a job is made of them.</summary>
public sealed record PartsDraft(IReadOnlyList<TableUnderstanding> Tables, Job? Job, IReadOnlyList<PartRow> Rows, ImmutableArray<Finding> Findings, IReadOnlyList<DroppedFile> Files)
{
    /// <param name="files">One list; or models, with or without a list that names them.</param>
    /// <param name="room">Folder of the desk where models are laid for the time of reading.</param>
    public static PartsDraft Of(IReadOnlyList<DroppedFile> files, TableChoices choices, string room)
    {
        var lists = files.Where(file => !ModelReader.IsModel(file.SafeName)).ToList();
        if (lists.Count == 1 && files.Count == 1)
        {
            using var stream = new MemoryStream(lists[0].Bytes, writable: false);
            return Of(JobReader.Inspect(stream, lists[0].Name, choices), files);
        }

        if (lists.Count > 1)
        {
            return new([], null, [], [new(Severity.Error, "lists-several", new(lists[1].Name), "there are two lists", "drop one list at a time, with or without its models")], files);
        }

        // The readers of models read files; these lie in a folder of their own for a moment.
        var folder = Path.Combine(room, "dropped-" + Guid.NewGuid().ToString("N"));
        try
        {
            Directory.CreateDirectory(folder);
            foreach (var file in files)
            {
                File.WriteAllBytes(Path.Combine(folder, file.SafeName), file.Bytes);
            }

            var read = JobReader.Inspect(lists.Count == 1 ? Path.Combine(folder, lists[0].SafeName) : files.Count == 1 ? Path.Combine(folder, files[0].SafeName) : folder, choices);
            // Where they lie is nobody's concern, and the page may be read by others.
            return Of(read with { Findings = [.. read.Findings.Select(finding => finding with { Where = finding.Where with { File = Path.GetFileName(finding.Where.File) } })] }, files);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static PartsDraft Of(PartsReading read, IReadOnlyList<DroppedFile> files) =>
        new([.. read.Tables], read.Input?.Job, read.Input is { } input ? PartRow.Of(input.Job) : [], read.Findings, files);
}
