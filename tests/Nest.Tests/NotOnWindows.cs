namespace Nest.Tests;

/// <summary>Why a test has no meaning on Windows, where it is skipped and said so; null elsewhere.</summary>
internal static class NotOnWindows
{
    public static string? Skip(string why) => OperatingSystem.IsWindows() ? why : null;
}

/// <summary>A test that has no meaning on Windows.</summary>
internal sealed class UnixFactAttribute : FactAttribute
{
    public UnixFactAttribute(string why) => Skip = NotOnWindows.Skip(why);
}

/// <summary>Tests that have no meaning on Windows.</summary>
internal sealed class UnixTheoryAttribute : TheoryAttribute
{
    public UnixTheoryAttribute(string why) => Skip = NotOnWindows.Skip(why);
}
