namespace Nest.Tests.Desk;

/// <summary>A clock that a test sets.</summary>
internal sealed class HandClock : TimeProvider
{
    public DateTimeOffset Now { get; set; } = new(2026, 1, 1, 0, 0, 0, TimeSpan.Zero);

    public override DateTimeOffset GetUtcNow() => Now;
}
