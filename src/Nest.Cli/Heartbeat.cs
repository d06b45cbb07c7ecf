using System.Globalization;

namespace Nest.Cli;

/// <summary>A line on the error stream again and again while something takes long, so that nobody thinks it hangs: written over on a screen,
/// a line every few seconds in a file.</summary>
internal sealed class Heartbeat : IDisposable
{
    private readonly World _world;
    private readonly Func<string> _words;
    private readonly long _begin;
    private readonly Lock _gate = new();
    private readonly ITimer _timer;
    private bool _over;

    /// <param name="words">What is done so far; called from a thread of the timer.</param>
    public Heartbeat(World world, Func<string> words)
    {
        (_world, _words, _begin) = (world, words, world.Time.GetTimestamp());
        var every = TimeSpan.FromSeconds(world.Quiet ? 3 : 1);
        _timer = world.Time.CreateTimer(_ => Beat(), null, every, every);
    }

    public void Dispose()
    {
        _timer.Dispose();
        lock (_gate)
        {
            if (!_over && !_world.Quiet)
            {
                _world.Error.WriteLine();
            }

            _over = true;
        }
    }

    private void Beat()
    {
        lock (_gate)
        {
            if (_over)
            {
                return;
            }

            var line = string.Create(CultureInfo.InvariantCulture, $"{_world.Time.GetElapsedTime(_begin).TotalSeconds,6:0} s  {_words()}");
            if (_world.Quiet)
            {
                _world.Error.WriteLine(line);
            }
            else
            {
                ((ScreenWriter)_world.Error).Over(line.PadRight(90));
            }
        }
    }
}
