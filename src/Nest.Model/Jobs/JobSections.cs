using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>What must hold of the sections that parts ask for and that stock is.</summary>
public static class JobSections
{
    /// <summary>What is wrong; null: nothing.</summary>
    public static ShapeProblem? Fault(Part part)
    {
        var sections = part.Forms & ~Forms.Any;
        if (part.Detail is { } detail)
        {
            return part.Forms.Section() is not { } form || part.Round
                ? new("section-forms", "a length of a section comes from that section alone", "give one form, and no diameter")
                : StockShape.OfSection(form, part.Width, part.Thickness, detail) ?? StockShape.Of(form, part.Length, part.Width, part.Thickness);
        }

        return sections == Forms.None || (sections == Forms.HexBar && part.Round)
            ? null
            : new("section-forms", "only round parts are turned from hex bar, and nothing is machined from tube, angle, channel, tee or profile", "give one form to ask for a length of it, or solid forms");
    }

    /// <summary>What is wrong; null: nothing.</summary>
    public static ShapeProblem? Fault(Stock stock) => StockShape.OfSection(stock.Form, stock.Width, stock.Thickness, stock.Detail) ?? stock switch
    {
        { Detail: null, ListedSection: not null } => new("section-listed", "a mass per metre is for sections", "leave it empty: plate and solid bar have theirs from their sizes"),
        { Form: Form.Profile, ListedSection: null } => new("section-mass", "a profile needs its mass per metre", "fill in 'kg per m' or 'lb per ft'"),
        { ListedSection: { } listed } when listed <= Area.Zero || listed > stock.Width * stock.Thickness =>
            new("section-mass", "the mass per metre is more than a solid bar of these outer sizes has", "check the mass, its unit and the sizes"),
        _ => null,
    };
}
