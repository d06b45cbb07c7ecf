using Nest.Desk.Model;

namespace Nest.Tests.Desk;

public sealed class SearchTest
{
    /// <summary>The desk ends all searches when it closes, also one that a test or a page has put away already.</summary>
    [Fact]
    public void An_end_that_is_asked_for_after_the_search_was_put_away_asks_for_nothing()
    {
        using var searches = new Searches();
        var search = new Search { Seconds = 1 };
        searches.Show("lamp", search);
        search.Dispose();

        var stop = searches.StopAll;
        stop.Should().NotThrow();
        search.Dispose();
        search.Now.Stopping.Should().BeFalse("it was never asked for while it could end");
    }

    [Fact]
    public void A_search_that_was_asked_to_end_still_says_so_when_it_was_put_away()
    {
        var search = new Search { Seconds = 1 };
        search.Stop();
        search.Dispose();
        search.Now.Stopping.Should().BeTrue();
        search.Cancel.IsCancellationRequested.Should().BeTrue();
    }
}
