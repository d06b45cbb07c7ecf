namespace Nest.Rack;

/// <summary>Why the rack said no.</summary>
public enum RackFault
{
    /// <summary>What was asked breaks a rule of the rack; nothing was changed.</summary>
    Refused,

    /// <summary>Another program held the rack for longer than the stated wait.</summary>
    InUse,

    DiskFull,

    ReadOnly,

    Damaged,

    /// <summary>Written by a newer Nest.</summary>
    Newer,

    /// <summary>A file that is no rack, or no file.</summary>
    NotARack,
}

/// <summary>The rack could not do what was asked. Nothing was changed.</summary>
/// <remarks>Message: what is wrong; <see cref="Advice"/>: what to do. Both are meant for the person at the screen.</remarks>
public sealed class RackException(RackFault fault, string message, string advice, Exception? inner = null)
    : Exception(message, inner)
{
    public RackFault Fault { get; } = fault;

    public string Advice { get; } = advice;

    internal static RackException Refused(string message, string advice) => new(RackFault.Refused, message, advice);
}
