using System.Globalization;

namespace Nest.Judge.Runs;

/// <summary>What came of a block of jobs.</summary>
internal sealed record Tally(int Jobs, int Plans, int Proven, int Cheapest, int TooLarge, int Wrong)
{
    public const string Head = "from,to,jobs,plans,proven,cheapest,too large,wrong";

    public static Tally operator +(Tally one, Tally other) => new(
        one.Jobs + other.Jobs, one.Plans + other.Plans, one.Proven + other.Proven, one.Cheapest + other.Cheapest,
        one.TooLarge + other.TooLarge, one.Wrong + other.Wrong);

    public static Tally None { get; } = new(0, 0, 0, 0, 0, 0);

    public string Row(int from, int to) => string.Create(
        CultureInfo.InvariantCulture, $"{from},{to},{Jobs},{Plans},{Proven},{Cheapest},{TooLarge},{Wrong}");

    /// <summary>The block's first and last seed and what came of it.</summary>
    public static (int From, int To, Tally Tally) Parse(string row)
    {
        var cells = row.Split(',').Select(cell => int.Parse(cell, CultureInfo.InvariantCulture)).ToArray();
        return (cells[0], cells[1], new(cells[2], cells[3], cells[4], cells[5], cells[6], cells[7]));
    }
}
