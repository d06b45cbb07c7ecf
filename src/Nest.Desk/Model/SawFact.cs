using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Planning;

namespace Nest.Desk.Model;

/// <summary>A saw as some of the shop's jobs have it, in words.</summary>
/// <param name="Jobs">Folders of the jobs that have it so.</param>
internal sealed record SawFact(string Name, string Kind, string Kerf, string Trims, string Limits, string Minutes, string Jobs)
{
    /// <summary>The saws of all jobs, each once for each way in which it is described.</summary>
    /// <returns>The saws by name; what one machine cannot be; the jobs whose files are refused.</returns>
    public static (IReadOnlyList<SawFact> Rows, IReadOnlyList<string> Doubts, IReadOnlyList<string> Refused) Of(Shop shop)
    {
        var read = shop.Jobs().Select(folder => (folder.Name, Planner.Read(folder.File).Value?.Job)).ToList();
        var saws = read.Where(one => one.Job is not null)
            .SelectMany(one => one.Job!.Saws.Select(saw => (Job: one.Name, saw.Kerf, Fact: Of(saw, LengthFormat.For(one.Job!.Unit, one.Job!.InchFraction))))).ToList();
        var rows = saws.GroupBy(one => one.Fact).Select(group => group.Key with { Jobs = Names(group.Select(one => one.Job)) });
        var doubts = saws.GroupBy(one => one.Fact.Name, StringComparer.OrdinalIgnoreCase).Where(group => group.Select(one => one.Kerf).Distinct().Count() > 1)
            .Select(group => $"{group.Key}: {string.Join("; ", group.GroupBy(one => one.Kerf).OrderBy(one => one.Key).Select(one => $"{one.First().Fact.Kerf} in {Names(one.Select(saw => saw.Job))}"))}.");
        return ([.. rows.OrderBy(row => row.Name, StringComparer.OrdinalIgnoreCase)], [.. doubts], [.. read.Where(one => one.Job is null).Select(one => one.Name)]);
    }

    private static SawFact Of(Saw saw, LengthFormat format)
    {
        var bar = saw.Kind == SawKind.BarSaw;
        return new(saw.Id, bar ? "bar saw" : saw.Kind == SawKind.PlateSaw ? "plate saw" : "cutter", format.TextWithError(saw.Kerf), TrimsOf(saw.Trims, bar, format), string.Join("; ", LimitsOf(saw, format)),
            string.Create(CultureInfo.InvariantCulture, $"{saw.HandlingMinutes:0.##} a cut, {saw.SettingMinutes:0.##} a setting, {saw.LoadMinutes:0.##} to load"), "");
    }

    private static string TrimsOf(EdgeTrims trims, bool bar, LengthFormat format)
    {
        var edges = new[] { ("left", trims.Left), ("right", trims.Right), ("bottom", trims.Bottom), ("top", trims.Top) }.Take(bar ? 2 : 4).ToList();
        return edges.All(edge => edge.Item2 == Length.Zero) ? "none" : edges.All(edge => edge.Item2 == trims.Left) ? $"{format.Text(trims.Left)} each"
            : string.Join(", ", edges.GroupBy(edge => edge.Item2).Select(same => $"{format.Text(same.Key)} {string.Join(" and ", same.Select(edge => edge.Item1))}"));
    }

    private static IEnumerable<string> LimitsOf(Saw saw, LengthFormat format)
    {
        if (saw.ShortestHeld > Length.Zero)
        {
            yield return $"must hold {format.Text(saw.ShortestHeld)}";
        }

        if (saw.LargestCut is { } cut && saw.Kind != SawKind.Cutter)
        {
            yield return saw.Kind == SawKind.BarSaw ? $"bars up to {format.Text(cut)} wide" : $"cuts up to {format.Text(cut)} long";
        }

        if (saw.LargestThickness is { } thick)
        {
            yield return $"up to {format.Text(thick)} thick";
        }

        if (saw.LongestStock is { } longest)
        {
            yield return $"stock up to {format.Text(longest)} long";
        }

        if (saw.MostPieces is { } most)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"at most {most} pieces of a bar");
        }

        if (saw.Stages is { } stages)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{stages} stages of cuts{(saw.TrimmingCut ? " and a trimming cut" : "")}");
        }

        if (saw.FirstCut is { } first)
        {
            yield return $"first cut {(first == CutDirection.Rip ? "along" : "across")} the stock";
        }
    }

    private static string Names(IEnumerable<string> jobs) => string.Join(", ", jobs.Distinct(StringComparer.Ordinal));
}
