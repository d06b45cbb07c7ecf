using Nest.Cli;

using var stop = new CancellationTokenSource();
Console.CancelKeyPress += (_, pressed) =>
{
    // The first Ctrl-C asks for the best plan so far, the second ends the program.
    pressed.Cancel = !stop.IsCancellationRequested;
    if (pressed.Cancel)
    {
        Console.Error.WriteLine();
        Console.Error.WriteLine("Stopping with the best plan so far (before there is one, with the first); Ctrl-C once more ends the program at once.");
    }

    stop.Cancel();
};

return App.Run(args, new(Console.Out, Console.Error, Console.IsErrorRedirected, TimeProvider.System, stop.Token));
