using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Solve.Choose;

namespace Nest.Tests.Choose;

/// <summary>The cheapest way to cut all of a component's blanks from one plate, by trying every through-cut at whole units: metal, saw time
/// and charges, facing, less what offcuts and scrap are worth. Written anew but for the blanks' sizes and a piece's facing cost.</summary>
/// <remarks>Plates without trims, one stock. Cuts between whole units could only matter where an offcut's worth jumps, which it does at
/// whole units.</remarks>
internal sealed class OnePlate
{
    private readonly Component _component;
    private readonly long _kerf;
    private readonly decimal _perCut;
    private readonly decimal _perUnit;
    private readonly decimal _keep;
    private readonly decimal _scrap;
    private readonly Dictionary<(long, long, int, int), decimal?> _known = [];

    private OnePlate(Component component)
    {
        _component = component;
        var frame = component.Stocks.Single();
        var saw = frame.Saw;
        _kerf = component.Units(saw.Kerf);
        _perCut = (saw.HandlingMinutes * saw.HourlyRate / 60) + saw.ChargePerCut;
        var unit = component.Unit / 1e7m;
        _perUnit = unit * (frame.Stock.Thickness.Nanometres / 1e7m) / saw.RateFor(component.Job.Materials[0].Family) * saw.HourlyRate / 60;
        var worth = StockWorth.Of(component.Job, frame.Stock);
        var sheet = (decimal)component.Units(frame.Sheet.SizeX) * component.Units(frame.Sheet.SizeY);
        _keep = worth.Keep.Amount / sheet;
        _scrap = worth.Scrap.Amount / sheet;
    }

    /// <summary>In money units, up to the roundings of the program's cost model; null when the plate does not hold them.</summary>
    public static long? Cheapest(Component component)
    {
        // Each offcut's worth is rounded down to a ten-thousandth, the saw's cost to the nearest.
        const decimal Roundings = 0.003m;
        var search = new OnePlate(component);
        var frame = component.Stocks.Single();
        var best = search.Best(
            component.Units(frame.Usable.SizeX), component.Units(frame.Usable.SizeY), component.Demand[0], component.Items > 1 ? component.Demand[1] : 0);
        var facing = Enumerable.Range(0, component.Items).Sum(i => component.Fits[0, i]!.ExtraCost.Amount * component.Demand[i]);
        return best is { } cost ? (long)decimal.Ceiling((frame.Stock.PiecePrice.Amount + facing + cost + Roundings) * 10_000m) : null;
    }

    private decimal? Best(long w, long h, int a, int b)
    {
        if (a == 0 && b == 0)
        {
            var rule = _component.Job.OffcutRules[0];
            var kept = Math.Max(w, h) >= _component.Units(rule.KeepLength) && Math.Min(w, h) >= _component.Units(rule.KeepWidth);
            return -(kept ? _keep : _scrap) * w * h;
        }

        if (_known.TryGetValue((w, h, a, b), out var known))
        {
            return known;
        }

        decimal? best = (a, b) switch
        {
            (1, 0) when Is(0) => 0m,
            (0, 1) when Is(1) => 0m,
            _ => null,
        };
        for (var x = 1L; x < w; x++)
        {
            Cut((x, h), (w - x - _kerf, h), h);
        }

        for (var y = 1L; y < h; y++)
        {
            Cut((w, y), (w, h - y - _kerf), w);
        }

        return _known[(w, h, a, b)] = best;

        bool Is(int i) => (_component.SizeX(0, i) == w && _component.SizeY(0, i) == h)
            || (_component.Fits[0, i]!.MayTurn && _component.SizeX(0, i) == h && _component.SizeY(0, i) == w);

        void Cut((long W, long H) one, (long W, long H) other, long length)
        {
            var dust = other.W <= 0 || other.H <= 0;
            for (var p = 0; p <= a; p++)
            {
                for (var q = 0; q <= b; q++)
                {
                    // What lies in the dust of the cut is nothing.
                    if (dust && (p < a || q < b))
                    {
                        continue;
                    }

                    if (Best(one.W, one.H, p, q) is { } first && (dust ? 0 : Best(other.W, other.H, a - p, b - q)) is { } second
                        && first + second + _perCut + (_perUnit * length) is var cost && (best is null || cost < best))
                    {
                        best = cost;
                    }
                }
            }
        }
    }
}
