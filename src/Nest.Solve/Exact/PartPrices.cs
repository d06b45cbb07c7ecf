using System.Globalization;

namespace Nest.Solve.Exact;

/// <summary>The least that one part's lines, settings and loads cost when each supplier's goods count with a share, or it sells nothing: a programme over the counts of the part's
/// stock (<see cref="CountMaster"/>).</summary>
/// <remarks>Cases that are alike for the part's own suppliers share the answer. Statements only rise, so an answer stays a bound; its counts stay the best as long as no
/// new statement makes them dearer. Shares are by supplier of the job, not a number where nothing is ordered.</remarks>
internal sealed class PartPrices
{
    private const long CountNodes = 4000;
    private const double MostSeconds = 5;

    /// <summary>By which a first answer may miss the least: to prove the last of it takes longest, and mostly its counts have no values of their own yet.</summary>
    private const double RoughGap = 0.003;

    /// <summary>What an answer may miss and not be called rough, in currency units.</summary>
    private const double Exactly = 0.005;

    private readonly PartProof _part;
    private readonly LineTerms _lines;
    private readonly SettingTerms? _settings;
    private readonly CountMaster _master;
    private readonly int[] _supplierOf;
    private readonly bool[] _isOwn;
    private readonly Dictionary<string, Answer> _answers = new(StringComparer.Ordinal);
    private readonly Dictionary<string, double> _relaxed = new(StringComparer.Ordinal);

    /// <param name="suppliers">Names of the job's suppliers, compared without regard to case.</param>
    /// <param name="settings">What counts cost in settings; null: nothing.</param>
    public PartPrices(PartProof part, LineTerms lines, List<string> suppliers, SettingTerms? settings)
    {
        (_part, _lines, _settings) = (part, lines, settings);
        _master = new(part.Job, [part], lines, settings);
        _supplierOf = [.. part.Job.Sources.Select(source => source.Frame.Stock.IsLeftover
            ? -1
            : suppliers.FindIndex(name => string.Equals(name, source.Frame.Stock.Supplier ?? "", StringComparison.OrdinalIgnoreCase)))];
        _isOwn = [.. suppliers.Select((_, k) => _supplierOf.Contains(k))];
    }

    /// <param name="Bound">The part's lines and loads cost no less, in currency units.</param>
    /// <param name="Counts">The best counts.</param>
    /// <param name="Value">What these cost, by the statements of then; settings, which stay the same, not in it.</param>
    /// <param name="Rough">Whether there may be somewhat better counts.</param>
    /// <param name="Version">Of the part; −1: to be worked out anew, and not roughly.</param>
    private sealed record Answer(double Bound, int[] Counts, double Value, bool Rough, int Version);

    /// <summary>A bound by the linear relaxation, in currency units; worked out once.</summary>
    public double Relaxed(double[] shares, ExactMeter meter)
    {
        var key = Key(shares);
        if (!_relaxed.TryGetValue(key, out var least))
        {
            least = _relaxed[key] = _master.Relaxed(BySource(shares)) / Grain.PerCurrency;
            meter.Add(1e6);
        }

        return least;
    }

    /// <summary>The bound, in currency units; null when the time is up.</summary>
    public double? Least(double[] shares, ExactMeter meter)
    {
        var key = Key(shares);
        var known = _answers.GetValueOrDefault(key);
        if (known is not null && known.Version >= 0 && (known.Version == _part.Version || ValueOf(known.Counts) <= known.Value + 1e-7))
        {
            _answers[key] = known with { Version = _part.Version };
            return known.Bound;
        }

        if (meter.IsOver)
        {
            return null;
        }

        var gap = known is { Version: < 0 } ? 0 : RoughGap;
        var answer = _master.Solve(meter.Limits(MostSeconds, CountNodes), gap, BySource(shares));
        meter.Add(1e6 + (1e5 * _master.Rows));
        if (answer.Counts is not { } counts)
        {
            return null;
        }

        var bound = Math.Max(known?.Bound ?? double.NegativeInfinity, answer.Bound / Grain.PerCurrency);
        var value = ValueOf(counts);
        _answers[key] = new(bound, counts, value, gap > 0 && answer.Cost / Grain.PerCurrency > bound + Exactly, _part.Version);
        return bound;

        double ValueOf(int[] some) => Lines(some, shares).Cost + (_part.CostAt(some) / Grain.PerCurrency);
    }

    /// <summary>The best counts of the last answer.</summary>
    public int[] Counts(double[] shares) => _answers[Key(shares)].Counts;

    /// <summary>Where the last answer was rough: it will be worked out anew, exactly.</summary>
    public bool Sharpen(double[] shares)
    {
        var key = Key(shares);
        if (_answers[key] is not { Rough: true } answer)
        {
            return false;
        }

        _answers[key] = answer with { Version = -1 };
        return true;
    }

    /// <summary>The best counts as a choice for <see cref="CaseTuning"/>.</summary>
    public OrderCase.Choice Choice(double[] shares)
    {
        var counts = Counts(shares);
        var (lines, goods) = Lines(counts, shares);
        for (var k = 0; k < goods.Length; k++)
        {
            lines -= double.IsNaN(shares[k]) ? 0 : shares[k] * goods[k];
        }

        return new(counts, lines + (_settings?.At(counts) ?? 0), goods);
    }

    /// <summary>What a choice costs beside goods by all statements of now, in currency units.</summary>
    public double CostOf(OrderCase.Choice choice) => choice.Lines + (_part.CostAt(choice.Counts) / Grain.PerCurrency);

    private string Key(double[] shares) => string.Join(' ', shares.Select((share, k) =>
        !_isOwn[k] ? "" : double.IsNaN(share) ? "–" : share.ToString("R", CultureInfo.InvariantCulture)));

    private double[] BySource(double[] shares) => [.. _supplierOf.Select(k => k < 0 ? 1 : shares[k])];

    /// <summary>What lines cost at these shares, and the goods by supplier, in currency units.</summary>
    private (double Cost, double[] Goods) Lines(int[] counts, double[] shares)
    {
        var (cost, goods) = (0.0, new double[shares.Length]);
        foreach (var source in _part.Job.Sources)
        {
            var k = _supplierOf[source.Number];
            if (k >= 0 && double.IsNaN(shares[k]))
            {
                continue;
            }

            var line = _lines.Of(source, counts[source.Number], k < 0 ? 1 : shares[k]);
            cost += line.Cost;
            if (k >= 0)
            {
                goods[k] += line.Goods;
            }
        }

        return (cost, goods);
    }
}
