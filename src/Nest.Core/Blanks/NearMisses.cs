using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Blanks;

/// <summary>Stock that does not serve a part, but would if a little were given up: a surface that stays, or a smaller allowance.</summary>
/// <remarks>Tried out with <see cref="BlankSizer"/>, stock by stock. O(stocks of the part's material).</remarks>
public static class NearMisses
{
    private static readonly AllowanceOverrides None = new()
    {
        SideCleanUp = Length.Zero, EndCleanUp = Length.Zero, FaceTop = Length.Zero, FaceBottom = Length.Zero, Grip = Length.Zero,
    };

    public static IEnumerable<string> Of(Job job, Blank blank)
    {
        var part = blank.Part;
        var served = blank.Fits.Select(fit => fit.StockId).ToHashSet(StringComparer.Ordinal);
        foreach (var stock in job.Stocks.Where(stock => !served.Contains(stock.Id) && stock.CutFor is null && stock.Available is not <= 0
            && part.Forms.Has(stock.Form) && string.Equals(stock.MaterialId, part.MaterialId, StringComparison.OrdinalIgnoreCase)))
        {
            if (!job.Allows(part, stock))
            {
                yield return part.Certificate && !job.HasCertificate(stock) ? $"{stock.Id}: no certificate, and the part needs one" : $"{stock.Id}: left out by the job's rules";
                continue;
            }

            if (What(job, part, stock) is { } what)
            {
                var why = BlankSizer.Size(job with { Stocks = [stock] }, part).Reason;
                yield return $"{stock.Id}: would do {what} ({why[(why.IndexOf(": ", StringComparison.Ordinal) + 2)..]})";
            }
        }
    }

    private static string? What(Job job, Part part, Stock stock)
    {
        var good = stock with { GoodFaces = true };
        var faces = stock.GoodFaces ? "faces" : "faces (good enough to stay)";
        (string Words, Part Part, Stock Stock)[] tries =
        [
            ("if its sides stayed", part with { MillSides = true }, stock),
            ($"if its {faces} stayed", part with { MillFaces = true }, good),
            ($"if its {faces} and sides stayed", part with { MillFaces = true, MillSides = true }, good),
            ("with smaller allowances", part with { Allowances = None }, stock),
        ];
        return tries.FirstOrDefault(one => !BlankSizer.Size(job with { Stocks = [one.Stock] }, one.Part).Fits.IsEmpty).Words;
    }
}
