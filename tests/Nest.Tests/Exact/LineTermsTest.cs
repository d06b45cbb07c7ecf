using Google.OrTools.LinearSolver;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Judge.Jobs;
using Nest.Solve.Choose;
using Nest.Solve.Exact;

namespace Nest.Tests.Exact;

/// <summary>What a line costs by the number of pieces used, against trying every number bought; and the programme against the figures.</summary>
public sealed class LineTermsTest
{
    private static readonly double[] Shares = [1, 0.93, 0.7, 0.4, 0];

    [Fact]
    public void The_cheapest_number_bought_is_found()
    {
        var lines = 0;
        foreach (var (exact, source) in Sources())
        {
            var terms = new LineTerms(exact.Job);
            foreach (var share in Shares)
            {
                for (var n = 0; n <= ExactJob.MostOf(source); n++)
                {
                    terms.Of(source, n, share).Cost.Should().BeApproximately(ByTrying(exact, source, n, share), 1e-7);
                    lines++;
                }
            }
        }

        lines.Should().BeGreaterThan(2000);
    }

    [Fact]
    public void The_programme_has_the_same_figures()
    {
        foreach (var (exact, source) in Sources().Where(one => !one.Source.Frame.Stock.Terms.IsPlain).Take(12))
        {
            var terms = new LineTerms(exact.Job);
            foreach (var share in Shares)
            {
                for (var n = 0; n <= ExactJob.MostOf(source); n++)
                {
                    using var program = new MixedProgram();
                    var count = program.Solver.MakeIntVar(0, ExactJob.MostOf(source), "");
                    terms.Add(program.Solver, source, count, share);
                    var row = program.Solver.MakeConstraint(n, n);
                    row.SetCoefficient(count, 1);
                    program.Minimize(new(10, null, default)).Cost.Should().BeApproximately(terms.Of(source, n, share).Cost, 1e-6);
                }
            }
        }
    }

    private static double ByTrying(ExactJob exact, LoadSource source, int used, double share)
    {
        var stock = source.Frame.Stock;
        if (stock.IsLeftover)
        {
            return used * source.Price / Grain.PerCurrency;
        }

        var whole = OrderTerms.Whole(exact.Job, source.Frame);
        var supplier = exact.Job.SupplierOf(stock.Supplier ?? "") ?? new Supplier { Name = stock.Supplier ?? "" };
        var mayKeep = stock.CutFor is null && whole.Keep;
        var least = double.PositiveInfinity;
        for (var bought = used; bought <= Math.Min(mayKeep ? ExactJob.MostOf(source) + OrderTerms.MoreThanNeeded(stock, supplier) : used, stock.Available ?? int.MaxValue); bought++)
        {
            var cost = (share * Amount(stock.Terms.LineCost(stock.PiecePrice, bought))) + (bought > 0 ? Amount(FussCosts.OfLine(exact.Job)) : 0) - ((bought - used) * Amount(whole.Value));
            least = Math.Min(least, cost);
        }

        return least;
    }

    private static double Amount(Money money) => money.Units / (double)Money.UnitsPerCurrency;

    private static IEnumerable<(ExactJob Job, LoadSource Source)> Sources()
    {
        for (var seed = 0; seed < 150; seed++)
        {
            var twins = StockTwins.Of(TinyJobs.Make(seed), BlankSizer.Size(TinyJobs.Make(seed)));
            var exact = new ExactJob(twins.Merged, Components.Of(twins.Merged, twins.MergedBlanks), tied: true, 1e5);
            foreach (var source in exact.Sources)
            {
                yield return (exact, source);
            }
        }
    }
}
