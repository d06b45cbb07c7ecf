namespace Nest.Desk;

/// <summary>How the desk is served.</summary>
public sealed record DeskOptions
{
    /// <summary>The shop: a folder with a folder for each job, or one job's own folder.</summary>
    public required string Folder { get; init; }

    /// <summary>Port on this machine; 0: any that is free.</summary>
    public int Port { get; init; }

    /// <summary>Whether devices of the shop's network may be paired.</summary>
    public bool Share { get; init; }

    /// <summary>Port for devices; 0: any that is free.</summary>
    public int SharePort { get; init; }

    /// <summary>Address of this machine to listen on for devices.</summary>
    public System.Net.IPAddress ShareAddress { get; init; } = System.Net.IPAddress.Any;

    /// <summary>The shop's own certificate with its key, as PEM; null: what devices send and get can be read on the network.</summary>
    public string? Certificate { get; init; }

    /// <summary>The clock.</summary>
    public TimeProvider Time { get; init; } = TimeProvider.System;
}
