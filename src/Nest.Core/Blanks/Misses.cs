using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Blanks;

/// <summary>Collects why stocks do not serve a part and tells, for each form that was tried, the nearest miss.</summary>
internal sealed class Misses(Job job, Part part)
{
    // The nearer a stock came to serve, the larger the step.
    private enum Step
    {
        RuledOut,
        NoneLeft,
        NoSaw,
        Section,
        Size,
    }

    private readonly SortedDictionary<Form, (Step Step, Length Lack, string Text)> nearest = [];
    private readonly SortedSet<Form> notAllowed = [];
    private int others;

    public void OtherMaterial() => others++;

    public void FormNotAllowed(Stock stock) => notAllowed.Add(stock.Form);

    public void RuledOut(Stock stock, bool hasCertificate) => Note(stock, Step.RuledOut, Length.Zero, RuledOut(part, stock, hasCertificate));

    /// <summary>Why the owner's rules exclude a stock for a part.</summary>
    internal static string RuledOut(Part part, Stock stock, bool hasCertificate) => part.Certificate && !hasCertificate
        ? $"{stock.Id} has no certificate, and the part needs one" : $"{stock.Id} is left out by the job's rules";

    public void NoneLeft(Stock stock) => Note(stock, Step.NoneLeft, Length.Zero, $"none of {stock.Id} is left");

    public void NoSaw(Stock stock) => Note(
        stock, Step.NoSaw, stock.Thickness, IsTooLong(job, stock)
            ? $"{stock.Id} is {Show(Length.Max(stock.Length, stock.Width))} long, longer than the saw's longest stock"
            : $"no saw takes {stock.Id} ({Show(stock.Width)} × {Show(stock.Thickness)})");

    /// <summary>Whether a saw would take this stock, which none does, if it were shorter.</summary>
    internal static bool IsTooLong(Job job, Stock stock) => job.Saws.Any(saw => (saw with { LongestStock = null }).Takes(stock));

    public void TrimTooLong(Stock stock, Saw saw) =>
        Note(stock, Step.NoSaw, Length.Zero, $"{saw.Id} cannot trim {stock.Id}: the trimming cut is longer than its largest cut");

    public void TooThin(Stock stock, PartWay way, Length lack)
    {
        var what = stock.Form switch
        {
            Form.Plate => $"blank needs {Show(way.Up)} thickness, {stock.Id} has {Show(stock.MinThickness)}",
            Form.RoundBar when way.RoundSection => $"blank needs {Show(way.Across)} diameter, {stock.Id} has {Show(stock.MinWidth)}",
            Form.RoundBar =>
                $"blank needs a section of {Show(way.Across)} × {Show(way.Up)} inside {Show(stock.MinWidth)} diameter of {stock.Id}",
            _ => $"blank needs a section of {Show(way.Across)} × {Show(way.Up)}, "
                + $"{stock.Id} has {Show(stock.MinWidth)} × {Show(stock.MinThickness)}",
        };
        Note(stock, Step.Section, lack, $"{what}: {Show(lack)} too little");
    }

    public void OtherSection(Stock stock) =>
        Note(stock, Step.Section, (stock.Width - part.Width).Nanometres is var off && off < 0 ? Length.FromNanometres(-off) : Length.FromNanometres(off), $"{stock.Id} is another section");

    public void TooSmall(Stock stock, PartWay way, Length usableX, Length usableY)
    {
        var straight = Length.Max(way.Along - usableX, way.Across - usableY);
        var turned = Length.Max(way.Across - usableX, way.Along - usableY);
        var lack = way.MayTurn ? Length.Min(straight, turned) : straight;
        var text = $"blank of {Show(way.Along)} × {Show(way.Across)}{(way.MayTurn ? "" : " (not to be turned)")} does not fit the "
            + $"usable {Show(usableX)} × {Show(usableY)} of {stock.Id}";
        Note(stock, Step.Size, lack, lack > Length.Zero ? $"{text}: {Show(lack)} too large" : $"{text}: the saw's largest cut is too short");
    }

    public void NotToSize(Stock stock, PartWay way) => Note(stock, Step.Size, Length.Zero,
        $"{stock.Id} is cut to {Show(stock.MinLength)} × {Show(stock.MinWidth)}, "
        + $"the blank is {Show(way.Along)}{(stock.Form.IsBar() ? " long" : " × " + Show(way.Across))}");

    public void TooShort(Stock stock, Length lack, Length usable) =>
        Note(stock, Step.Size, lack, $"blank is {Show(lack)} longer than the usable {Show(usable)} of {stock.Id}");

    public void TrimNotHeld(Stock stock, Saw saw) => Note(stock, Step.Size, Length.Zero,
        $"what the trims leave of {stock.Id} is shorter than the {Show(saw.ShortestHeld)} that {saw.Id} must hold");

    public void NotHeld(Stock stock, Saw saw, PartWay way) => Note(stock, Step.Size, Length.Zero,
        $"to saw {Show(way.Along)}{(stock.Form.IsBar() ? "" : " × " + Show(way.Across))} off {stock.Id} leaves less on both sides of the "
        + $"cut than the {Show(saw.ShortestHeld)} that {saw.Id} must hold");

    public void AngledNotHeld(Stock stock, Saw saw, Length edge) => Note(stock, Step.Size, Length.Zero,
        $"the shorter edge between the angled ends is {Show(edge)}, shorter than the {Show(saw.ShortestHeld)} that {saw.Id} must hold");

    public override string ToString()
    {
        if (nearest.Count > 0)
        {
            return string.Join("; ", nearest.Select(pair => $"{pair.Key.Word()}: {pair.Value.Text}"));
        }

        if (notAllowed.Count > 0)
        {
            return $"stock of {part.MaterialId} comes as {string.Join(", ", notAllowed.Select(form => form.Word()))} only, "
                + $"and the part allows {Name(part.Forms)}";
        }

        return others == 0 ? "there is no stock at all" : $"there is no stock of {part.MaterialId}";
    }

    private void Note(Stock stock, Step step, Length lack, string text)
    {
        if (!nearest.TryGetValue(stock.Form, out var known)
            || step > known.Step
            || (step == known.Step && lack < known.Lack))
        {
            nearest[stock.Form] = (step, lack, text);
        }
    }

    private string Show(Length length) => job.Unit == LengthUnit.Inch
        ? length.ToInches().ToString("0.####", CultureInfo.InvariantCulture) + " in"
        : length.ToString();

    private static string Name(Forms forms)
    {
        var names = Enum.GetValues<Form>().Where(form => forms.Has(form)).Select(form => form.Word()).ToArray();
        return names.Length == 0 ? "no form" : string.Join(", ", names);
    }
}
