namespace Nest.Desk;

/// <summary>How the desk is served.</summary>
public sealed record DeskOptions
{
    /// <summary>The shop: a folder with a folder for each job, or one job's own folder.</summary>
    public required string Folder { get; init; }

    /// <summary>Port on this machine; 0: any that is free.</summary>
    public int Port { get; init; }

    /// <summary>The clock.</summary>
    public TimeProvider Time { get; init; } = TimeProvider.System;
}
