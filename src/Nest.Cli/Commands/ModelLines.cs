using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Solids;
using Nest.Data.Models;
using Nest.Output.Models;

namespace Nest.Cli.Commands;

/// <summary>What <c>nest blanks</c> says of a part that has a model: its boxes, mass, cost of each blank, and its shadow.</summary>
internal sealed class ModelLines(Job job, LengthFormat format)
{
    /// <summary>Boxes and mass of the finished part.</summary>
    public IEnumerable<string> Of(Part part, MeasuredPart model)
    {
        var (body, boxes) = (model.Part.Body, model.Boxes);
        yield return $"  model {Path.GetFileName(model.File)}, unit {model.Unit}";
        yield return $"  box along its axes {Box(boxes.AsGiven, body)}, smallest over all turns {Box(boxes.Smallest, body)}{Gap(boxes)}"
            + (boxes.OnFlat is { } flat ? $", smallest on a flat {Box(flat, body)}" : "");
        yield return body.Moments is { } moments && MassOf(part, body) is { } mass
            ? string.Create(CultureInfo.InvariantCulture, $"  volume {moments.Volume / 1000:0.###} cm³, mass {mass.Kilograms:0.####} kg")
            : $"  mass not known: {body.NoVolume}";
    }

    /// <summary>Cost of metal and milling of one blank, and metal bought for a kilogram of part.</summary>
    public string Cost(Blank blank, BlankFit fit, Stock stock, MeasuredPart model)
    {
        var cost = BlankCost.Of(fit, stock);
        var density = job.MaterialOf(blank.Part.MaterialId).Density;
        var bought = stock.Form.IsBar() ? Mass.Of(stock.Section, fit.SizeX, density) : Mass.Of(fit.SizeX * fit.SizeY, stock.Thickness, density);
        var ratio = MassOf(blank.Part, model.Part.Body) is { Kilograms: > 0m } mass
            ? string.Create(CultureInfo.InvariantCulture, $", buy-to-finish {bought.Kilograms / mass.Kilograms:0.##}")
            : "";
        return string.Create(CultureInfo.InvariantCulture, $", metal and milling {job.Currency} {cost.Amount:0.00}{ratio}");
    }

    /// <summary>Both views of a part within its blank.</summary>
    public (string FileName, string Title, IReadOnlyList<ShadowView> Views) Picture(Blank blank, MeasuredPart model, int number)
    {
        var (part, size, given) = (blank.Part, model.Size!, blank.Allowances);
        var (x, y, z) = part.Round
            ? (part.Length + (given.EndCleanUp * 2), part.Width + (given.SideCleanUp * 2), part.Width + (given.SideCleanUp * 2))
            : (part.Length + (given.SideCleanUp * 2), part.Width + (given.SideCleanUp * 2), part.Thickness + given.FaceTop + given.FaceBottom + given.Grip);
        return ($"shadow-{number:000}.png", part.Id,
        [
            View("from above", 1, part.Width, y),
            View("from the side", 2, part.Thickness, z),
        ]);

        ShadowView View(string title, int up, Length finished, Length blankSize) => new(
            title, Shadow.Of(model.Part.Body, size.Lies, 0, up, ShadowPicture.Cells), $"{format.Text(part.Length, false)} × {format.Text(finished)}",
            $"{format.Text(x, false)} × {format.Text(blankSize)}", (double)x.ToMillimetres(), (double)blankSize.ToMillimetres());
    }

    private Mass? MassOf(Part part, Body body) => body.Moments is { } moments && moments.Volume is > 0 and < 1e15
        ? new Mass((decimal)moments.Volume / 1e9m * job.MaterialOf(part.MaterialId).Density)
        : null;

    private string Box(SolidBox box, Body body)
    {
        var excess = Math.Max(box.Excess.X, Math.Max(box.Excess.Y, box.Excess.Z));
        var text = $"{Size(box.Size.X, false)} × {Size(box.Size.Y, false)} × {Size(box.Size.Z, true)}";
        return excess < 0.005 ? text : string.Create(CultureInfo.InvariantCulture, $"{text} (a side may be up to {excess:0.##} mm too large)");

        string Size(double millimetres, bool withUnit) => format.Text(ModelSize.Up(millimetres, body.Precision, job.Unit), withUnit);
    }

    private static string Gap(BodyBoxes boxes) => boxes.Gap < 1e-4
        ? ""
        : string.Create(CultureInfo.InvariantCulture, $" (no box has {Math.Min(1, boxes.Gap) * 100:0.##} % less volume)");
}
