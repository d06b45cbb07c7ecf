using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>What the drawing shows, finished size.</summary>
/// <remarks>Flat part: <see cref="Length"/> (along the rolling direction unless it may turn) × <see cref="Width"/> ×
/// <see cref="Thickness"/>. Round part: <see cref="Length"/> along the axis, width = thickness = diameter.</remarks>
public sealed record Part
{
    /// <summary>Name of the part, unique within the job.</summary>
    public required string Id { get; init; }

    public required string MaterialId { get; init; }

    /// <summary>Turned from round, else milled from a rectangle.</summary>
    public bool Round { get; init; }

    public required Length Length { get; init; }

    public required Length Width { get; init; }

    public required Length Thickness { get; init; }

    /// <summary>The part is a length of the section in <see cref="Forms"/> (a spacer from tube, a standoff from hex): it comes from just this section,
    /// and width and thickness are its outer sizes. Null: it is machined from what holds it.</summary>
    public SectionDetail? Detail { get; init; }

    /// <summary>Pieces wanted per set.</summary>
    public required int Quantity { get; init; }

    /// <summary>Extra pieces for set-up and scrap over the whole batch, as resolved from a count or a percentage.</summary>
    public int Extra { get; init; }

    /// <summary>The percentage of the batch's pieces that <see cref="Extra"/> was resolved from, rounded up; null: a count.</summary>
    public decimal? ExtraPercent { get; init; }

    /// <summary>Pieces of the whole batch that are wanted on top where they take no more metal (<see cref="Job.FreeSparesUpTo"/>); not asked for, so none has to be cut.</summary>
    public int FreeSpares { get; init; }

    public Forms Forms { get; init; } = Forms.Any;

    /// <summary>Whether it may be turned against the rolling direction.</summary>
    public bool MayTurn { get; init; } = true;

    /// <summary>Which way a flat part may lie in its stock; null: as the list gives it on plate, any on bars. Round parts: no meaning.</summary>
    public Lie? Lie { get; init; }

    public Holding Holding { get; init; }

    /// <summary>Thickness faces may stay as the mill made them: no facing where the stock has good faces.</summary>
    public bool MillFaces { get; init; }

    /// <summary>Sides that a bar gives may stay as the mill made them: no clean-up on those.</summary>
    public bool MillSides { get; init; }

    /// <summary>Own allowances.</summary>
    public AllowanceOverrides? Allowances { get; init; }

    /// <summary>Mitred or angled ends; null: both square.</summary>
    public EndAngles? Ends { get; init; }

    /// <summary>Minutes at the mill for each piece; null: not told, so a quote is for the blank alone.</summary>
    public decimal? MillMinutes { get; init; }

    /// <summary>Minutes of each set-up at the mill, once a batch; null: not told.</summary>
    public decimal? SetUpMinutes { get; init; }

    /// <summary>Set-ups that the part needs; null: one where <see cref="SetUpMinutes"/> are told.</summary>
    public int? SetUps { get; init; }

    /// <summary>All its pieces come from one stock: one row of a list, or one leftover.</summary>
    public bool OneStock { get; init; }

    /// <summary>All its blanks have one size, so that the mill is set up once.</summary>
    public bool OneSize { get; init; }

    /// <summary>Its metal must have a certificate: leftovers of a known heat, or suppliers that give one.</summary>
    public bool Certificate { get; init; }

    /// <summary>How many may be milled from one blank; null: one, and nothing is said of the mill.</summary>
    public PerBlank? PerBlank { get; init; }

    /// <summary>It stands for gang blanks, as the planner chose them; null: each blank is one part.</summary>
    public Gang? Gang { get; init; }

    public string Note { get; init; } = "";

    /// <summary>What is milled from one blank, its sizes those of the whole block of parts with the gaps between them; the part itself where that is one part.</summary>
    public Part AsBlock() => Gang is { } gang ? BlockOf(this, gang.Rows, gang.Columns) : this;

    /// <summary>The block of so many rows across its width and columns along its length.</summary>
    public static Part BlockOf(Part part, int rows, int columns)
    {
        var gap = part.PerBlank?.Gap ?? Quantities.Length.Zero;
        return part with { Length = (part.Length * columns) + (gap * (columns - 1)), Width = (part.Width * rows) + (gap * (rows - 1)) };
    }

    /// <summary>Spares as a percentage of all pieces of a batch, rounded up; so many that no job has them where they cannot be counted.</summary>
    public static int Spares(int quantity, int sets, decimal percent) =>
        (int)Math.Min(int.MaxValue, decimal.Ceiling((decimal)quantity * sets * percent / 100m));
}
