using Nest.Solve;
using Nest.Solve.Plates;

namespace Nest.Tests.Plates;

public class SearchBudgetTest
{
    [Fact]
    public void As_long_as_a_share_is_not_reached_there_is_work_to_do()
    {
        // 3 of 10 units are done: 0.3 is less than 0.35, but 0.35 of 10 is 3 in whole units. A turn that may do nothing does not come nearer to its end: the long run stood
        // still there (seed 61 613).
        var budget = new SearchBudget(new SolveLimits { Work = 10, Seconds = 3600 });
        budget.Add(3);
        budget.Used.Should().BeLessThan(0.35);
        budget.WorkUntil(0.35).Should().Be(1);
        budget.WorkUntil(0.9).Should().Be(6);
        new SearchBudget(new SolveLimits { Seconds = 1 }).WorkUntil(0.5).Should().BeNull();
    }
}
