namespace Nest.Desk.Model;

/// <summary>Draws a page anew when a search tells something: at most four times a second, and after the last thing that was told.</summary>
/// <param name="onPage">Runs work where the page may be changed.</param>
/// <param name="draw">Draws what is true by then.</param>
internal sealed class SteadyRedraw(Func<Func<Task>, Task> onPage, Action draw)
{
    private static readonly TimeSpan Pace = TimeSpan.FromMilliseconds(250);

    private int _waiting;

    /// <summary>Something was told. Called from any thread.</summary>
    public void Ask()
    {
        if (Interlocked.Exchange(ref _waiting, 1) == 0)
        {
            _ = onPage(async () =>
            {
                await Task.Delay(Pace);
                // Before it is drawn: what is told from here on asks for another drawing.
                Interlocked.Exchange(ref _waiting, 0);
                draw();
            });
        }
    }
}
