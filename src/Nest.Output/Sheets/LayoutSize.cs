namespace Nest.Output.Sheets;

/// <summary>How large a layout is drawn on paper.</summary>
/// <param name="Picture">Of a plate's picture: share of the largest that a page allows. Of a bar's: how tall, 1 the least.</param>
/// <param name="Type">Of the steps: 1 is 2.9 mm, which is read at arm's length.</param>
internal readonly record struct LayoutSize(double Picture, double Type)
{
    /// <summary>Of plates, the best first: a smaller picture before small type.</summary>
    public static LayoutSize[] Plates { get; } =
    [
        new(1, 1.3), new(1, 1.2), new(1, 1.1), new(1, 1), new(0.9, 1), new(0.8, 1), new(0.7, 1), new(0.6, 1), new(0.8, 0.93), new(0.6, 0.93),
    ];

    /// <summary>Of bars, the best first.</summary>
    public static LayoutSize[] Bars { get; } = [new(1.8, 1.35), new(1.6, 1.25), new(1.4, 1.2), new(1.2, 1.1), new(1, 1), new(1, 0.93)];
}
