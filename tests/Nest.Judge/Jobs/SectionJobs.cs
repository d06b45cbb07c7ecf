using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Judge.Jobs;

/// <summary>Tiny jobs of sections from a seed: the bars of <see cref="TinyJobs"/> become hex bar, tube, angle, channel or tee, and the parts lengths of
/// it, some with angled ends; now and then one bar has another wall, so that no part comes from it.</summary>
public static class SectionJobs
{
    public static Job Make(int seed)
    {
        // Every fourth tiny job has bars alone.
        var job = TinyJobs.Make((seed * 4) + 2);
        var form = (seed % 6) switch { 0 => Form.HexBar, 1 => Form.RoundTube, 2 => Form.RectangularTube, 3 => Form.Angle, 4 => Form.Channel, _ => Form.Tee };
        var (width, height) = form.HasOneSize() ? (20m, 20m) : form == Form.Channel ? (24m, 30m) : (30m, 20m);
        var wall = form == Form.HexBar ? (Length?)null : MadeShop.Mm(2.5m);
        var flange = form is Form.Channel or Form.Tee && seed % 4 == 0 ? MadeShop.Mm(4) : (Length?)null;
        var detail = new SectionDetail { Wall = wall, Flange = flange };
        var forms = (Forms)(1 << (int)form);
        return job with
        {
            Name = $"section-{seed}",
            Parts =
            [
                .. job.Parts.Select(part => part with
                {
                    Round = false, Width = MadeShop.Mm(width), Thickness = MadeShop.Mm(height), Forms = forms, Detail = detail,
                    Ends = part.Ends is { } ends && form != Form.HexBar && ends.ShortEdge(part.Length, MadeShop.Mm(Math.Max(width, height))) > MadeShop.Mm(5) ? ends : null,
                }),
            ],
            Stocks =
            [
                .. job.Stocks.Where(stock => stock.CutFor is null).Select((stock, at) => stock with
                {
                    Form = form, Width = MadeShop.Mm(width), MinWidth = MadeShop.Mm(width), Thickness = MadeShop.Mm(height), MinThickness = MadeShop.Mm(height),
                    Detail = at == 1 && wall is not null && seed % 5 == 0 ? detail with { Wall = MadeShop.Mm(3) } : detail,
                }),
            ],
            OffcutRules = [.. job.OffcutRules.Select(rule => rule.Form is null ? rule : rule with { Form = form })],
        };
    }
}
