namespace Nest.Output.Rack;

/// <summary>A sheet of labels by its dimensions in millimetres; no brand is needed, a ruler is.</summary>
/// <param name="PageWidth">Width of the sheet.</param>
/// <param name="Columns">Labels beside each other.</param>
/// <param name="Width">Width of one label.</param>
/// <param name="PitchX">From the left edge of a label to that of the next.</param>
/// <param name="Left">From the sheet's left edge to the first label.</param>
/// <param name="Top">From the sheet's top edge to the first label.</param>
public sealed record LabelSheet(
    double PageWidth, double PageHeight, int Columns, int Rows, double Width, double Height, double PitchX, double PitchY, double Left, double Top)
{
    /// <summary>Smallest label that holds a mark readable at arm's length beside its QR code.</summary>
    public const double LeastWidth = 34;

    /// <summary>Least height of such a label.</summary>
    public const double LeastHeight = 14;

    /// <summary>A label that fills its page, for label printers.</summary>
    public static LabelSheet OneLabel(double width, double height) => new(width, height, 1, 1, width, height, width, height, 0, 0);

    /// <summary>A4 with three columns of eight labels.</summary>
    public static LabelSheet Usual { get; } = new(210, 297, 3, 8, 70, 37, 70, 37, 0, 0.5);

    /// <summary>Labels on a sheet.</summary>
    public int PerPage => Columns * Rows;

    /// <summary>What is wrong with the dimensions; null when nothing is.</summary>
    public string? Problem()
    {
        if (Columns is < 1 or > 50 || Rows is < 1 or > 100)
        {
            return "a sheet has from 1 to 50 columns and from 1 to 100 rows";
        }

        if (!(Width >= LeastWidth && Height >= LeastHeight))
        {
            return FormattableString.Invariant($"a label must be at least {LeastWidth} × {LeastHeight} mm, so that its mark can be read at arm's length");
        }

        if ((Columns > 1 && PitchX < Width) || (Rows > 1 && PitchY < Height))
        {
            return "the pitch is smaller than the label: labels would overlap";
        }

        const double Slack = 0.01;
        return Left < 0 || Top < 0
            || Left + ((Columns - 1) * PitchX) + Width > PageWidth + Slack
            || Top + ((Rows - 1) * PitchY) + Height > PageHeight + Slack
            ? "the labels do not fit on the sheet: check pitch and margins"
            : null;
    }
}

/// <summary>What stands on a label.</summary>
/// <param name="Mark">Large, and in the QR code.</param>
/// <param name="Size">In the shop's unit: <c>500 × 300 × 10 mm</c>.</param>
/// <param name="Material">Alloy with temper, or grade.</param>
/// <param name="Details">Place, origin: as many as have room.</param>
public sealed record LabelContent(string Mark, string Size, string Material, IReadOnlyList<string> Details)
{
    /// <summary>What the QR code says, where it is an address that a phone opens; null: the mark alone.</summary>
    public string? Address { get; init; }

    /// <summary>Heat or lot number: printed whatever else has room; empty when not known.</summary>
    public string Heat { get; init; } = "";

    /// <summary>What is not well with the piece, beside the material: <c>poor, damaged</c>; empty when all is.</summary>
    public string Remark { get; init; } = "";
}
