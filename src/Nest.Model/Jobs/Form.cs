namespace Nest.Core.Jobs;

/// <summary>The form that stock comes in.</summary>
public enum Form
{
    Plate,
    FlatBar,
    SquareBar,
    RoundBar,
}

/// <summary>A set of forms that a part may be made from.</summary>
[Flags]
public enum Forms
{
    None = 0,
    Plate = 1,
    FlatBar = 2,
    SquareBar = 4,
    RoundBar = 8,
    Any = Plate | FlatBar | SquareBar | RoundBar,
}

public static class FormExtensions
{
    /// <summary>Whether the set has this form.</summary>
    public static bool Has(this Forms forms, Form form) => (forms & (Forms)(1 << (int)form)) != 0;

    /// <summary>Whether stock of this form is cut by crosscuts only.</summary>
    public static bool IsBar(this Form form) => form != Form.Plate;
}
