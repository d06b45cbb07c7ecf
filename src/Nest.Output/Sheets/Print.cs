namespace Nest.Output.Sheets;

/// <summary>Sizes of type on paper, in millimetres: what is read at arm's length with wet glasses, and what is read from the machine.</summary>
internal static class Print
{
    /// <summary>Smallest type of all: 9 pt (a point is 25.4 / 72 mm).</summary>
    public const double Least = 3.2;

    /// <summary>What fence or stop is set to: 22 pt.</summary>
    public const double Setting = 7.8;

    /// <summary>Heads of tables and steps.</summary>
    public const double Head = 4.2;
}
