using System.Globalization;
using Nest.Core.Quantities;

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

    private FormattableString? Sized { get; init; }

    /// <summary>The message with its lengths as the shop reads them.</summary>
    public string MessageIn(LengthFormat format) => Sized is null
        ? Message
        : string.Format(
            CultureInfo.InvariantCulture, Sized.Format, [.. Sized.GetArguments().Select(value => value is Length length ? LengthText.Format(length, format) : value)]);

    /// <summary>A refusal whose message has lengths in it.</summary>
    internal static RackException RefusedSize(FormattableString message, string advice) =>
        new(RackFault.Refused, FormattableString.Invariant(message), advice) { Sized = message };

    internal static RackException Refused(string message, string advice) => new(RackFault.Refused, message, advice);
}
