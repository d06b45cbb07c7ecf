using System.Collections.Immutable;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>What the settings of one layout cost, once for all stock pieces cut so.</summary>
/// <param name="Layout">Index in the plan's layouts.</param>
/// <param name="Settings">Of the layout by itself.</param>
/// <param name="Cost">Settings × price of one.</param>
/// <param name="StillFrom">Number of the layout from which the stop still stands as the first cut needs it; null: it is set.</param>
/// <param name="Carried">Saved by that: the price of one setting, or zero.</param>
public readonly record struct SettingLine(int Layout, int Settings, Money Cost, int? StillFrom, Money Carried)
{
    public Money Net => Cost - Carried;
}

/// <summary>Settings of fence and stop over a whole plan: two lines of its cost.</summary>
/// <remarks>One setting costs setting minutes × hourly rate ÷ 60, rounded to a unit of money. "Settings" is Σ over the layouts, however many
/// stock pieces each is cut from. "Carried over" is what is saved where a layout begins with the position in which the one before it on the
/// same saw, in the order of their numbers, left the stop. O(layouts · pieces).</remarks>
public sealed record SettingCosts(ImmutableArray<SettingLine> Lines)
{
    public Money Settings => Lines.Aggregate(Money.Zero, (sum, line) => sum + line.Cost);

    public Money CarriedOver => Lines.Aggregate(Money.Zero, (sum, line) => sum + line.Carried);

    /// <summary>Settings less what is carried over.</summary>
    public Money Total => Settings - CarriedOver;

    /// <summary>Price of one setting.</summary>
    public static Money One(Saw saw) => Money.FromAmount(saw.SettingMinutes * saw.HourlyRate / 60m);

    /// <param name="layouts">Each cut by a saw of the job, or by the supplier.</param>
    /// <returns>A line for each layout, in the order given.</returns>
    public static SettingCosts Of(Job job, ImmutableArray<Layout> layouts)
    {
        var stocks = job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        var saws = job.Saws.ToDictionary(saw => saw.Id, StringComparer.Ordinal);
        var stops = new Dictionary<string, (StopPosition Position, int Layout)>(StringComparer.Ordinal);
        var lines = new SettingLine[layouts.Length];
        foreach (var at in Enumerable.Range(0, layouts.Length).OrderBy(at => layouts[at].Number))
        {
            var layout = layouts[at];
            lines[at] = new(at, 0, Money.Zero, null, Money.Zero);
            if (!saws.TryGetValue(layout.SawId, out var saw))
            {
                continue;
            }

            var settings = LayoutSettings.Of(stocks[layout.StockId], saw, layout, job.Unit);
            int? from = settings.First is { } first && stops.TryGetValue(saw.Id, out var stop) && stop.Position == first ? stop.Layout : null;
            lines[at] = new(at, settings.Count, One(saw) * settings.Count, from, from is null ? Money.Zero : One(saw));
            if (settings.Last is { } last)
            {
                stops[saw.Id] = (last, layout.Number);
            }
        }

        return new([.. lines]);
    }
}
