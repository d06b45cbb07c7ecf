namespace Nest.Cli;

/// <summary>All that a command may touch beside files: passed in, so that a test can run the whole program in-process.</summary>
/// <param name="Out">Results.</param>
/// <param name="Error">Progress and messages.</param>
/// <param name="Quiet">Whether <paramref name="Error"/> is no screen: no line is written over.</param>
/// <param name="Cancel">Ctrl-C.</param>
internal sealed record World(TextWriter Out, TextWriter Error, bool Quiet, TimeProvider Time, CancellationToken Cancel)
{
    /// <summary>What is piped in, for a table named <c>-</c>.</summary>
    public Func<Stream> In { get; init; } = Console.OpenStandardInput;
}
