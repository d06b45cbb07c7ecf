using System.CommandLine;
using System.Diagnostics;
using Nest.Desk;

namespace Nest.Cli.Commands;

/// <summary><c>nest desk</c>: the whole job on pages in the browser.</summary>
internal static class DeskCommand
{
    public static Command Create(World world)
    {
        var folder = new Argument<string>("folder")
        {
            Description = "The shop: a folder with a folder for each job (each with its job.toml), or one job's folder.", DefaultValueFactory = _ => ".",
        };
        var port = new Option<int>("--port") { Description = "Port on this machine. Default: any that is free.", HelpName = "N" }.Whole(0, 65535);
        var stay = new Option<bool>("--no-browser") { Description = "Only print the address, open no browser." };
        var command = new Command("desk", "Plan on pages in the browser: on this machine only, on the same files as the command line.") { folder, port, stay };
        command.SetAction(parsed => Run(world, parsed.GetRequiredValue(folder), parsed.GetValue(port), parsed.GetValue(stay)));
        return command;
    }

    private static int Run(World world, string folder, int port, bool stay)
    {
        if (!Directory.Exists(folder))
        {
            world.Error.WriteLine($"error: {folder}: there is no such folder — name the folder of your jobs, or one job's folder");
            return ExitCode.InputRefused;
        }

        return RunAsync(world, folder, port, stay).GetAwaiter().GetResult();
    }

    private static async Task<int> RunAsync(World world, string folder, int port, bool stay)
    {
        var server = new DeskServer(new() { Folder = folder, Port = port, Time = world.Time });
        await using (server.ConfigureAwait(false))
        {
            await server.StartAsync(world.Cancel).ConfigureAwait(false);
            await world.Out.WriteLineAsync($"The desk is open at {server.Address} for this machine only. Ctrl-C closes it.").ConfigureAwait(false);
            await OfferAsync(world, server, stay).ConfigureAwait(false);
            await UntilCancelledAsync(world, server).ConfigureAwait(false);
            await server.StopAsync(CancellationToken.None).ConfigureAwait(false);
        }

        return ExitCode.Done;
    }

    private static async Task OfferAsync(World world, DeskServer server, bool stay)
    {
        var entry = server.NewEntry();
        await world.Out.WriteLineAsync($"To let a browser in, open within two minutes: {entry}").ConfigureAwait(false);
        await world.Out.FlushAsync().ConfigureAwait(false);
        if (!stay)
        {
            Open(entry);
        }
    }

    /// <summary>Waits for Ctrl-C; each press of Enter shows a new address.</summary>
    private static async Task UntilCancelledAsync(World world, DeskServer server)
    {
        var ended = new TaskCompletionSource();
        using var asked = world.Cancel.Register(() => ended.TrySetResult());
        // Reading the keyboard cannot be cancelled: a thread of its own, which ends with the program.
        var keys = new Thread(() =>
        {
            while (!world.Cancel.IsCancellationRequested && Console.In.ReadLine() is not null)
            {
                world.Out.WriteLine($"To let a browser in, open within two minutes: {server.NewEntry()}");
                world.Out.Flush();
            }
        }) { IsBackground = true };
        if (!Console.IsInputRedirected)
        {
            keys.Start();
        }

        await ended.Task.ConfigureAwait(false);
    }

    private static void Open(Uri address)
    {
        try
        {
            using var started = Process.Start(new ProcessStartInfo(address.ToString()) { UseShellExecute = true });
        }
        catch (Exception problem) when (problem is System.ComponentModel.Win32Exception or PlatformNotSupportedException or InvalidOperationException or FileNotFoundException)
        {
            // No browser here: the address is on the screen.
        }
    }
}
