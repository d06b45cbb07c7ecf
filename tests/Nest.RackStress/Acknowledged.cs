using System.Globalization;
using Nest.Rack;
using Nest.Rack.History;

namespace Nest.RackStress;

/// <summary>What a worker said it had done, held against the rack's history.</summary>
internal static class Acknowledged
{
    private static readonly Dictionary<string, string> Kinds = new(StringComparer.Ordinal)
    {
        ["added"] = "add", ["reserved"] = "reserve", ["cut"] = "cut", ["moved"] = "move", ["cancelled"] = "cancel", ["undid"] = "undo", ["received"] = "receive",
    };

    /// <summary>Every acknowledged change of one worker is in the history, in the same order, and the worker made at most one change
    /// more (the one that was under way when it was killed).</summary>
    public static IEnumerable<string> Missing(RackStore store, int seed, IReadOnlyCollection<string> lines)
    {
        var who = string.Create(CultureInfo.InvariantCulture, $"worker {seed}");
        var history = store.History(int.MaxValue).Where(change => change.Who == who && change.Kind != "materials").Reverse().ToList();
        var said = lines.Select(line => line.Split(' ')).Where(words => Kinds.ContainsKey(words[0])).ToList();
        if (history.Count < said.Count || history.Count > said.Count + 1)
        {
            yield return $"{who} said {said.Count} changes, the history has {history.Count}";
            yield break;
        }

        for (var i = 0; i < said.Count; i++)
        {
            if (!Matches(said[i], history[i]))
            {
                yield return $"{who} said '{string.Join(' ', said[i])}', the history has '{history[i].Kind}: {history[i].Summary}'";
            }
        }
    }

    private static bool Matches(string[] said, ChangeRecord change)
    {
        var kind = Kinds[said[0]];
        return (change.Kind == kind || (kind == "cut" && change.Kind == "miscut")) && said.Skip(1).Where(word => word.Length > 0 && word != "left").All(word =>
            change.Undoes?.ToString(CultureInfo.InvariantCulture) == word || change.Summary.Contains(word, StringComparison.Ordinal)
            || kind == "reserve");
    }
}
