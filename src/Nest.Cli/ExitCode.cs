namespace Nest.Cli;

/// <summary>What the program returns to the shell.</summary>
internal static class ExitCode
{
    public const int Done = 0;
    public const int Usage = 1;
    public const int InputRefused = 2;

    /// <summary>Not all parts can be cut; they are named, the rest is planned.</summary>
    public const int NotAllParts = 3;

    public const int CheckerRefused = 4;
    public const int InternalFault = 5;

    /// <summary>Another program held the rack for longer than the stated wait: try again.</summary>
    public const int RackInUse = 6;

    /// <summary>Memory ran out, or the stream that results go to takes no more; in the second case all files are written.</summary>
    public const int Surroundings = 7;

    /// <summary>Stopped by the user: what is shown is what was found until then.</summary>
    public const int BrokenOff = 8;
}
