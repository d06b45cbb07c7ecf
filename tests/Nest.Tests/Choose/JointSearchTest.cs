using FluentAssertions;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Solve;
using Nest.Solve.Choose;
using Nest.Tests.Makers;

namespace Nest.Tests.Choose;

/// <summary>What the steps of a job with terms find is chosen from with what settings cost.</summary>
public sealed class JointSearchTest
{
    [Fact]
    public void It_chooses_with_settings_again_where_there_is_another_best_plan()
    {
        var saw = JobMaker.BarSaw with { HourlyRate = 60, SettingMinutes = 1 };
        var job = JobMaker.Job(
            [JobMaker.Part("long", 300, 40, 10, 6, Forms.FlatBar), JobMaker.Part("short", 200, 40, 10, 6, Forms.FlatBar)], [JobMaker.Bar("bar", 40, 10, 1000, 10)], saw) with
        { AllowanceRules = [new() { Allowances = new() }] };
        var components = Components.Of(job, BlankSizer.Size(job));
        var columns = AllColumns.Of(components.Single(), default).Columns;
        var search = new JointSearch(job, components, new SolveLimits { Seconds = 3600, Work = 100_000 }.OfJob(), default);
        search.AddAll(0, [Column(1, 0), Column(0, 1)]);
        search.Offer([new([(Column(1, 0), 6), (Column(0, 1), 6)], [])], []).Should().BeTrue();
        search.ChooseWithSettings();

        search.AddAll(0, columns);
        search.Offer([new([(Column(2, 0), 3), (Column(0, 2), 3)], [])], []).Should().BeTrue("it is a better plan, if not the best");
        var before = Total();
        search.ChooseWithSettings();

        Total().Should().BeLessThan(before);

        Money Total() => search.Best.Cost!.Value + search.Best.SetUps;

        Column Column(int longs, int shorts) => columns.First(column => column.Counts[0] == longs && column.Counts[1] == shorts);
    }
}
