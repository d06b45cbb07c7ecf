using Nest.Cli;

using var stop = new CancellationTokenSource();
Console.CancelKeyPress += (_, pressed) =>
{
    // The first Ctrl-C asks for the best plan so far, the second ends the program.
    pressed.Cancel = !stop.IsCancellationRequested;
    stop.Cancel();
};

return App.Run(args, new(Console.Out, Console.Error, Console.IsErrorRedirected, TimeProvider.System, stop.Token));
