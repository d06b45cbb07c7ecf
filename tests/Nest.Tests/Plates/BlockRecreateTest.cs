using Nest.Core.Plans;
using Nest.Solve.Plates;
using Nest.Solve.Plates.ThroughCut;

namespace Nest.Tests.Plates;

/// <summary>Blocks of equal pieces against the independent checker, and the settings that a sheet is taken to need.</summary>
public sealed class BlockRecreateTest
{
    /// <summary>No more than is wanted, the saw can cut it, and what is counted as missing is.</summary>
    [Theory]
    [InlineData(null, false, null, 0)]
    [InlineData(null, false, null, 60)]
    [InlineData(3, false, null, 0)]
    [InlineData(3, true, CutDirection.Rip, 0)]
    [InlineData(2, true, CutDirection.Crosscut, 0)]
    public void Blocks_obey_the_saw_and_the_demand(int? stages, bool trimming, CutDirection? first, int held)
    {
        var random = new Random(7);
        var source = new RandomSource(7);
        var (sheets, pieces) = (0, 0);
        for (var n = 0; n < 40; n++)
        {
            var problem = new PlateProblem
            {
                Stocks = [new PlateStock(random.Next(600, 1000), random.Next(400, 700), 100, 3), new PlateStock(random.Next(300, 600), random.Next(200, 400), 30, 1)],
                Items = [.. Enumerable.Range(0, random.Next(3, 7)).Select(_ => new PlateItem(random.Next(30, 220), random.Next(20, 160), random.Next(2, 12), random.Next(3) > 0))],
                Kerf = random.Next(0, 4),
                Cutting = new PlateCutting { Stages = stages, TrimmingCut = trimming, FirstCut = first, ShortestHeld = held, LargestCut = n % 3 == 0 ? 500 : null },
            };
            var model = new ThroughModel(problem);
            var plan = new TrialPlan(model);
            plan.Start([], model.Demand, long.MaxValue / 8, ref source);
            plan.Begin();

            new BlockRecreate(model).Some(plan, model.StockLimit, ref source);

            var counts = new int[model.ItemCount];
            foreach (var sheet in plan.Trial)
            {
                sheet.AddCounts(counts);
                ThroughCutChecker.CheckLayout(problem, LayoutBuilder.Build(model, sheet, 1)).Should().BeEmpty("job {0}", n);
            }

            counts.Zip(model.Demand).Should().OnlyContain(pair => pair.First <= pair.Second);
            plan.TrialMissing.Should().Equal(model.Demand.Zip(counts, (wanted, made) => wanted - made));
            plan.Trial.GroupBy(sheet => sheet.Stock).All(group => group.Count() <= model.StockLimit[group.Key]).Should().BeTrue();
            (sheets, pieces) = (sheets + plan.Trial.Count, pieces + counts.Sum());
        }

        sheets.Should().BeGreaterThan(stages is null ? 30 : 10);
        pieces.Should().BeGreaterThan(stages is null ? 400 : 50);
    }

    /// <summary>By hand: a block of 3 × 2 in the corner is a strip (one setting), two rows (one), and in each row three of one length (one for both rows). Where it fills the plate across there is no strip.</summary>
    [Theory]
    [InlineData(1000, 500, 3)]
    [InlineData(304, 500, 2)]
    [InlineData(304, 202, 2)]
    public void A_block_takes_a_setting_for_each_size_on_each_level(long width, long height, int settings)
    {
        var model = new ThroughModel(new PlateProblem
        {
            Stocks = [new PlateStock(width, height, 100, null)], Items = [new PlateItem(100, 100, 6, false)], Kerf = 2, Cutting = new PlateCutting(),
        });
        var sheet = model.Blank[0][0].Clone();
        sheet.BestSpot(model, 306, 204, out var spot).Should().BeTrue();
        sheet.Put(spot, new Block(0, false, 3, 2, true, 102, 102));

        sheet.Pieces.Should().Be(6);
        SheetSettings.Of(sheet.Nodes).Should().Be(settings);
    }
}
