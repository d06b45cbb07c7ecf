using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Data.Models;
using Nest.Data.Parts;
using Nest.Data.Tables;

namespace Nest.Data;

/// <summary>A job as it was read, with what a job file says beside the job.</summary>
public sealed record JobInput
{
    public required Job Job { get; init; }

    /// <summary>Time limit of the job file in seconds; null when it gives none.</summary>
    public double? Seconds { get; init; }

    /// <summary>Seed of the job file; null when it gives none.</summary>
    public int? Seed { get; init; }

    /// <summary>The shop's paper, <c>a4</c> or <c>letter</c>; null when the job file does not say.</summary>
    public string? Paper { get; init; }

    /// <summary>Where the shop's desk answers phones and tablets: <c>http://192.168.1.20:8443</c>; empty: not said.</summary>
    public string Desk { get; init; } = "";

    /// <summary>Address of a job's pages for the saw; null where the desk has none.</summary>
    /// <param name="folder">Name of the job's folder.</param>
    public string? SawAddress(string folder) => Desk.Length == 0 ? null : $"{Desk.TrimEnd('/')}/saw/{Uri.EscapeDataString(folder)}";

    /// <summary>Settings at the top of the job file, by their names there; empty for a bare parts list.</summary>
    public ImmutableHashSet<string> Said { get; init; } = [];

    /// <summary>What orders need beside the plan.</summary>
    public Correspondence Correspondence { get; init; } = Correspondence.None;

    /// <summary>Layouts of an earlier plan that stay: where that plan is, and the numbers as written; null: none.</summary>
    public (string Plan, string Layouts)? Keep { get; init; }

    /// <summary>How the parts lists were understood.</summary>
    public ImmutableArray<TableUnderstanding> PartsLists { get; init; } = [];

    /// <summary>What was read one way and may be meant another; each is among the findings too.</summary>
    public ImmutableArray<Finding> Doubts { get; init; } = [];

    /// <summary>Sizes as the lists have them, by part, where they stood in one text.</summary>
    public ImmutableDictionary<string, string> SizeTexts { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>How much dimensions may change, by part, where the list says so; no part of any plan.</summary>
    public ImmutableDictionary<string, DesignLimits> DesignLimits { get; init; } = ImmutableDictionary<string, DesignLimits>.Empty;

    /// <summary>The models of parts that have one, by the part's name.</summary>
    public ImmutableDictionary<string, MeasuredPart> Models { get; init; } = ImmutableDictionary<string, MeasuredPart>.Empty;

    /// <summary>What was found of a part or stock later, with the row that it was read from: who mends it opens a file.</summary>
    public ImmutableArray<Finding> Placed(ImmutableArray<Finding> findings) =>
    [
        .. findings.Select(finding => finding.Where is { Row: 0, File: var name } && RowOf(name) is { } row
            ? finding with { Where = row, Message = $"{name}: {finding.Message}" }
            : finding),
    ];

    private SourcePosition? RowOf(string name)
    {
        if (name.StartsWith("part ", StringComparison.Ordinal))
        {
            return PartRows.TryGetValue(name["part ".Length..], out var part) ? part : null;
        }

        if (!name.StartsWith("stock ", StringComparison.Ordinal))
        {
            return null;
        }

        // A piece cut to size for a part is called after the row that offers it.
        var stock = name["stock ".Length..];
        return StockRows.TryGetValue(stock, out var row) ? row
            : stock.LastIndexOf(" cut for ", StringComparison.Ordinal) is > 0 and var end && StockRows.TryGetValue(stock[..end], out var offer) ? offer
            : null;
    }

    /// <summary>Where each part was read, for findings that come later.</summary>
    public IReadOnlyDictionary<string, SourcePosition> PartRows { get; init; } = ImmutableDictionary<string, SourcePosition>.Empty;

    /// <summary>Where each stock was read, by its name.</summary>
    public IReadOnlyDictionary<string, SourcePosition> StockRows { get; init; } = ImmutableDictionary<string, SourcePosition>.Empty;
}
