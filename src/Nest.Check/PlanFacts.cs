using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Check;

/// <summary>The plan with its names looked up, and the findings so far.</summary>
internal sealed class PlanFacts
{
    private readonly List<Finding> findings = [];

    public PlanFacts(Plan plan)
    {
        Plan = plan;
        foreach (var part in plan.Job.Parts)
        {
            Parts.TryAdd(part.Id, part);
        }

        foreach (var stock in plan.Job.Stocks)
        {
            Stocks.TryAdd(stock.Id, stock);
        }

        foreach (var saw in plan.Job.Saws)
        {
            Saws.TryAdd(saw.Id, saw);
        }

        foreach (var material in plan.Job.Materials)
        {
            Materials.TryAdd(material.Id, material);
        }
    }

    public Plan Plan { get; }

    public Job Job => Plan.Job;

    public Dictionary<string, Part> Parts { get; } = new(StringComparer.Ordinal);

    public Dictionary<string, Stock> Stocks { get; } = new(StringComparer.Ordinal);

    public Dictionary<string, Saw> Saws { get; } = new(StringComparer.Ordinal);

    public Dictionary<string, Material> Materials { get; } = new(StringComparer.OrdinalIgnoreCase);

    public ImmutableArray<Finding> Findings => [.. findings];

    public void Add(string rule, string where, string message) =>
        findings.Add(new(Severity.Error, rule, new SourcePosition(where), message));
}

/// <summary>A layout with its stock, material and saw looked up.</summary>
internal sealed record LayoutFacts(Layout Layout, Stock Stock, Material Material, Saw Saw)
{
    public string Name => $"layout {Layout.Number}";

    /// <summary>What the trims leave.</summary>
    public Rect Inner => new(
        Layout.Trims.Left, Layout.Trims.Bottom, Layout.Sheet.SizeX - Layout.Trims.Left - Layout.Trims.Right,
        Layout.Sheet.SizeY - Layout.Trims.Bottom - Layout.Trims.Top);

    public bool Bar => Stock.Form != Form.Plate;

    /// <summary>Bought for the rack as it is, because the terms make that cheaper.</summary>
    public bool BoughtWhole => Layout.Pieces.IsEmpty;

    public bool Cutter => Saw.Kind == SawKind.Cutter;

    public string Piece(int index) => $"{Name}, piece {index + 1} ({Layout.Pieces[index].PartId})";

    public string Offcut(int index) => $"{Name}, offcut {index + 1}";
}
