using System.Runtime.InteropServices;
using Nest.Cli;

using var stop = new CancellationTokenSource();
var screen = new ScreenWriter(Console.Out);
var messages = new ScreenWriter(Console.Error);
Console.CancelKeyPress += (_, pressed) => pressed.Cancel = Stop("Ctrl-C once more");

// A shutdown, a batch system or a service manager asks this way: the best plan is not lost with it.
using var terminated = PosixSignalRegistration.Create(PosixSignal.SIGTERM, asked => asked.Cancel = Stop("a second one"));

return App.Run(args, new(screen, messages, Console.IsErrorRedirected, TimeProvider.System, stop.Token));

// The first request asks for the best plan so far, the second ends the program.
bool Stop(string again)
{
    if (stop.IsCancellationRequested)
    {
        return false;
    }

    messages.WriteLine();
    messages.WriteLine($"Stopping with the best plan so far (before there is one, with the first); {again} ends the program at once.");
    stop.Cancel();
    return true;
}
