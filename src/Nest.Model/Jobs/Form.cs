namespace Nest.Core.Jobs;

/// <summary>The form that stock comes in. Racks store the numbers: new forms go behind the others.</summary>
public enum Form
{
    Plate,
    FlatBar,
    SquareBar,
    RoundBar,
    HexBar,
    RoundTube,

    /// <summary>Square tube too.</summary>
    RectangularTube,
    Angle,
    Channel,
    Tee,

    /// <summary>Any other section, known by its name.</summary>
    Profile,
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

    /// <summary>Every form of solid stock that a part is machined from unless something else is said. A section is always asked for by name.</summary>
    Any = Plate | FlatBar | SquareBar | RoundBar,
    HexBar = 16,
    RoundTube = 32,
    RectangularTube = 64,
    Angle = 128,
    Channel = 256,
    Tee = 512,
    Profile = 1024,
}

public static class FormExtensions
{
    /// <summary>Whether the set has this form.</summary>
    public static bool Has(this Forms forms, Form form) => (forms & SetOf(form)) != 0;

    /// <summary>Whether stock of this form is cut by crosscuts only.</summary>
    public static bool IsBar(this Form form) => form != Form.Plate;

    /// <summary>Hex bar, tube, angle, channel, tee and named profile: a part may ask for a length of it.</summary>
    public static bool IsSection(this Form form) => form >= Form.HexBar;

    /// <summary>Whether its section has one size across: diameter, side or across flats.</summary>
    public static bool HasOneSize(this Form form) => form is Form.SquareBar or Form.RoundBar or Form.HexBar or Form.RoundTube;

    /// <summary>Whether a length of it is turned at its ends (a standoff, a spacer), so that the shop's end clean-up holds. Lengths of the other
    /// sections stay as sawn unless the part itself says otherwise (common practice, no source).</summary>
    public static bool IsTurned(this Form form) => form is Form.HexBar or Form.RoundTube;

    /// <summary>The trade's word in English, as tables and messages write it.</summary>
    public static string Word(this Form form) => form switch
    {
        Form.Plate => "plate",
        Form.FlatBar => "flat bar",
        Form.SquareBar => "square bar",
        Form.RoundBar => "round bar",
        Form.HexBar => "hex bar",
        Form.RoundTube => "round tube",
        Form.RectangularTube => "rectangular tube",
        Form.Angle => "angle",
        Form.Channel => "channel",
        Form.Tee => "tee",
        _ => "profile",
    };

    /// <summary>The section that a part asks a length of; null: none or several.</summary>
    public static Form? Section(this Forms forms)
    {
        var form = (Form)System.Numerics.BitOperations.Log2((uint)forms);
        return form.IsSection() && forms == SetOf(form) ? form : null;
    }

    private static Forms SetOf(Form form) => (Forms)(1 << (int)form);
}
