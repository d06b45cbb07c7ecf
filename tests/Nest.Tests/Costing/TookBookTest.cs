using Nest.Cli;
using Nest.Core.Plans;
using Nest.Planning;
using Nest.Tests.Data;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Costing;

/// <summary><c>nest took</c> keeps what was entered, and tells of several jobs at once.</summary>
public class TookBookTest
{
    [Fact]
    public void Two_jobs_are_told_together_and_a_second_entry_takes_the_place_of_the_first()
    {
        using var folder = new JobFolder();
        Save(folder, "a", 4);
        Save(folder, "b", 6);
        var (_, first, _) = Nest("took", Path.Combine(folder.Root, "a", "plan.json"), "1=10");
        first.Should().Contain("Kept in").And.NotContain("plans so far");
        Nest("took", Path.Combine(folder.Root, "a", "plan.json"), "1=12").Code.Should().Be(0);

        var (code, both, error) = Nest("took", Path.Combine(folder.Root, "b", "plan.json"), "1=20", "--kerf", "bar saw=2.2");

        code.Should().Be(0, error);
        both.Should().Contain("bar saw, 2 plans so far at these rates: 2 layouts took 32 min");
        File.ReadAllLines(Path.Combine(folder.Root, "took.csv")).Should().HaveCount(2 + 3);
    }

    [Fact]
    public void A_row_that_is_none_is_named_and_nothing_is_lost()
    {
        using var folder = new JobFolder();
        Save(folder, "a", 4);
        var book = folder.Write("took.csv", "day,plan,job,saw,rates,layout,took,planned\nsomething else\n");

        var (code, _, error) = Nest("took", Path.Combine(folder.Root, "a", "plan.json"), "1=10");

        code.Should().Be(2);
        error.Should().Contain("took.csv:2:");
        File.ReadAllText(book).Should().Contain("something else");
    }

    private static (int Code, string Output, string Error) Nest(params string[] words)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = App.Run(words, new World(output, error, true, TimeProvider.System, CancellationToken.None));
        return (code, output.ToString(), error.ToString());
    }

    private static void Save(JobFolder folder, string name, int quantity)
    {
        Directory.CreateDirectory(Path.Combine(folder.Root, name));
        var job = Job([Flat("p", 100, 20, 8, quantity) with { Forms = Core.Jobs.Forms.FlatBar }], [Bar("bar", Core.Jobs.Form.FlatBar, 30, 12)]) with { Name = name };
        Plan plan = Planner.Plan(job, new() { Work = 1000 }).Plan!;
        plan.Layouts.Should().ContainSingle();
        Planner.Save(plan, Path.Combine(folder.Root, name, "plan.json")).Should().BeEmpty();
    }
}
