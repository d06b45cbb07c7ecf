using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Output.Files;

/// <summary>The parts of a job as a list in our own format: read back it gives the same parts.</summary>
/// <remarks>Sizes in the job's unit, in the heads, with all their decimals; columns that no part fills are left out.</remarks>
public static class CleanParts
{
    /// <summary>The parts of a job as a table that Nest reads back, one row a part.</summary>
    public static Sheet Table(Job job)
    {
        var unit = job.Unit == LengthUnit.Inch ? "in" : "mm";
        (string Head, Func<Part, object?> Cell)[] columns =
        [
            ("part", part => part.Id),
            ("material", part => part.MaterialId),
            ($"length ({unit})", part => Size(part.Length)),
            ($"width ({unit})", part => part.Round ? null : Size(part.Width)),
            ($"thickness ({unit})", part => part.Round ? null : Size(part.Thickness)),
            ($"diameter ({unit})", part => part.Round ? Size(part.Width) : null),
            ("quantity", part => part.Quantity),
            ("free spares", part => part.FreeSpares == 0 ? null : part.FreeSpares),
            ("extra", part => part.ExtraPercent is { } percent ? percent.ToString(CultureInfo.InvariantCulture) + "%" : part.Extra == 0 ? null : part.Extra),
            ($"wall ({unit})", part => Size(part.Detail?.Wall)),
            ($"flange ({unit})", part => Size(part.Detail?.Flange)),
            ("profile name", part => part.Detail?.Name),
            ("forms", part => part.Forms == Forms.Any ? null : Words(part.Forms)),
            ("turn", part => part.MayTurn ? null : "no"),
            ("lie", part => part.Lie switch { Lie.Any => "any", Lie.Flat => "flat", Lie.AsGiven => "as given", _ => null }),
            ("holding", part => part.Holding == (part.Round ? Holding.Chuck : Holding.Vise) ? null : HoldingWord(part.Holding)),
            ("faces stay", part => part.MillFaces ? "yes" : null),
            ("sides stay", part => part.MillSides ? "yes" : null),
            ($"side clean-up ({unit})", part => Size(part.Allowances?.SideCleanUp)),
            ($"end clean-up ({unit})", part => Size(part.Allowances?.EndCleanUp)),
            ($"face top ({unit})", part => Size(part.Allowances?.FaceTop)),
            ($"face bottom ({unit})", part => Size(part.Allowances?.FaceBottom)),
            ($"grip ({unit})", part => Size(part.Allowances?.Grip)),
            ("angle start", part => part.Ends?.Start is { IsSquare: false } angle ? angle.ToDegrees() : null),
            ("angle end", part => part.Ends?.End is { IsSquare: false } angle ? angle.ToDegrees() : null),
            ("angle across", part => part.Ends is null ? null : part.Ends.AcrossThickness ? "thickness" : "width"),
            ("per blank", part => part.PerBlank is not { } several ? null : several.IsAny ? "any" : string.Join(' ', several.Counts)),
            ($"gap between ({unit})", part => part.PerBlank is { Gap: var gap } && gap > Length.Zero ? Size(gap) : null),
            ("per blank with", part => part.PerBlank?.With),
            ("mill minutes", part => part.MillMinutes),
            ("set-up minutes", part => part.SetUpMinutes),
            ("set-ups", part => part.SetUps),
            ("one stock", part => part.OneStock ? "yes" : null),
            ("one size", part => part.OneSize ? "yes" : null),
            ("certificate", part => part.Certificate ? "yes" : null),
            ("note", part => part.Note.Length == 0 ? null : part.Note),
        ];
        var used = columns.Where((column, at) => at < 3 || column.Head == "quantity" || job.Parts.Any(part => column.Cell(part) is not null)).ToList();
        return new("parts", [.. used.Select(column => column.Head)], [.. job.Parts.Select(part => used.Select(column => column.Cell(part)).ToArray())]);

        // Not every length is a short number of inches. The others are written in millimetres, with their unit.
        object? Size(Length? length) => length is not { } known ? null
            : unit == "mm" ? known.ToMillimetres() / 1.000000000000000000m
            : known.Nanometres % 254 == 0 ? known.ToInches() / 1.000000000000000000m
            : known.ToMillimetres().ToString("0.######", CultureInfo.InvariantCulture) + " mm";
    }

    /// <summary>Forms as a list has them: <c>plate + flat bar</c>; <c>any</c>.</summary>
    public static string Words(Forms forms) => forms == Forms.Any ? "any" : string.Join(" + ", Enum.GetValues<Form>().Where(form => forms.Has(form)).Select(form => form.Word()));

    private static string HoldingWord(Holding holding) => holding switch
    {
        Holding.FixturePlate => "fixture plate",
        Holding.SoftJaws => "soft jaws",
        Holding.Chuck => "chuck",
        _ => "vise",
    };
}
