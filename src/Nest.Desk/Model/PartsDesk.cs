using System.Collections.Concurrent;
using Nest.Data.Parts;
using Nest.Planning;

namespace Nest.Desk.Model;

/// <summary>The parts lists that are being changed. They belong to the desk, not to a page: what could not be written yet, and what may be undone, outlasts a closed browser.</summary>
internal sealed class PartsDesk(Shop shop, TimeProvider time)
{
    private readonly ConcurrentDictionary<(string Job, string File), PartsEdit> _edits = new();

    /// <summary>The lists of a job in the order that it names them, where they are text within the shop's folder.</summary>
    /// <param name="files">Names of those that cannot be changed here.</param>
    public IReadOnlyList<PartsEdit> Of(JobFolder job, out IReadOnlyList<string> files)
    {
        var (edits, others) = (new List<PartsEdit>(), new List<string>());
        foreach (var table in Planner.Inspect(job.File, Drafts(job)).Tables)
        {
            var path = Path.GetFullPath(table.File);
            if (_edits.TryGetValue((job.Name, path), out var known))
            {
                known.LookAtFile();
                edits.Add(known);
            }
            else if (IsInShop(path) && table.Sheet is null && File.ReadAllBytes(path) is var bytes && PartsText.Read(bytes, table.File, table.Choices) is { } text)
            {
                edits.Add(_edits.GetOrAdd((job.Name, path), _ => new(job, path, bytes, text, () => Drafts(job), time)));
            }
            else
            {
                others.Add(Path.GetFileName(path));
            }
        }

        files = others;
        return edits;
    }

    /// <summary>What is changed and not written yet, by full path.</summary>
    private Dictionary<string, byte[]> Drafts(JobFolder job) => _edits.Where(pair => pair.Key.Job == job.Name && pair.Value.IsOpen)
        .ToDictionary(pair => pair.Key.File, pair => pair.Value.Draft, StringComparer.Ordinal);

    private bool IsInShop(string path) => path.StartsWith(shop.Folder + Path.DirectorySeparatorChar, StringComparison.Ordinal) && File.Exists(path)
        && new FileInfo(path).LinkTarget is null;
}
