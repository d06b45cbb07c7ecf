using System.CommandLine;
using System.Diagnostics;
using Nest.Desk;

namespace Nest.Cli.Commands;

/// <summary><c>nest desk</c>: the whole job on pages in the browser.</summary>
internal static class DeskCommand
{
    public static void Fill(Command command, World world)
    {
        var folder = new Argument<string>("folder")
        {
            Description = "The shop: a folder with a folder for each job (each with its job.toml), or one job's folder.", DefaultValueFactory = _ => ".",
        };
        var port = new Option<int>("--port") { Description = "Port on this machine. Default: any that is free.", HelpName = "N" }.Whole(0, 65535);
        var stay = new Option<bool>("--no-browser") { Description = "Only print the address, open no browser." };
        var share = new Option<bool>("--share") { Description = "Let phones and tablets of the shop's network in, once they are paired (page Devices)." };
        var sharePort = new Option<int>("--share-port") { Description = "Port for them. Default: any that is free.", HelpName = "N" }.Whole(0, 65535);
        var certificate = new Option<string?>("--certificate") { Description = "The shop's own certificate with its key (PEM), so that the network cannot read along.", HelpName = "FILE" };
        command.With(folder, port, stay, share, sharePort, certificate);
        command.SetAction(parsed => Run(world, parsed.GetValue(stay), new()
        {
            Folder = parsed.GetRequiredValue(folder), Port = parsed.GetValue(port), Time = world.Time,
            Share = parsed.GetValue(share), SharePort = parsed.GetValue(sharePort), Certificate = parsed.GetValue(certificate),
        }));
    }

    private static int Run(World world, bool stay, DeskOptions options)
    {
        if (!Directory.Exists(options.Folder))
        {
            world.Error.WriteLine($"error: {options.Folder}: there is no such folder — name the folder of your jobs, or one job's folder");
            return ExitCode.InputRefused;
        }

        if (options.Certificate is { } file && !File.Exists(file))
        {
            world.Error.WriteLine($"error: {file}: there is no such certificate — name a PEM file that holds the certificate and its key");
            return ExitCode.InputRefused;
        }

        return RunAsync(world, stay, options).GetAwaiter().GetResult();
    }

    private static async Task<int> RunAsync(World world, bool stay, DeskOptions options)
    {
        var server = new DeskServer(options);
        await using (server.ConfigureAwait(false))
        {
            await server.StartAsync(world.Cancel).ConfigureAwait(false);
            await world.Out.WriteLineAsync($"The desk is open at {server.Address} for this machine only. Ctrl-C closes it.").ConfigureAwait(false);
            if (server.SharedAddress is { } shared)
            {
                await world.Out.WriteLineAsync($"Paired phones and tablets of the network reach {shared}; the page Devices pairs them.{(options.Certificate is null ? " Without --certificate whoever is on the network can read along." : "")}").ConfigureAwait(false);
            }

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
        })
        { IsBackground = true };
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
