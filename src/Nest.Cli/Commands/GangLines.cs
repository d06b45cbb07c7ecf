using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Cli.Commands;

/// <summary>Tells how many parts the planner takes from one blank.</summary>
internal static class GangLines
{
    public static IEnumerable<string> Of(Plan plan)
    {
        var format = LengthFormat.For(plan.Job.Unit, plan.Job.InchFraction);
        foreach (var part in plan.Job.Parts.Where(part => part.PerBlank is not null))
        {
            yield return part.Gang is not { } gang ? $"{part.Id}: one from each blank is the cheapest that was found."
                : string.Create(CultureInfo.InvariantCulture, $"{string.Join(" + ", gang.Members.Select(member => member.Part))}: {gang.Parts} from {(gang.Blanks == 1 ? "one" : $"each of {gang.Blanks}")} {(gang.Rest ? "rest " : "")}blank{(gang.Blanks == 1 ? "" : "s")}")
                    + (gang.Parts == 1 ? "." : string.Create(CultureInfo.InvariantCulture, $", {gang.Rows} row{(gang.Rows == 1 ? "" : "s")} of {gang.Columns}, {format.Text(part.PerBlank!.Gap)} between them."));
        }
    }

    /// <summary>The number in whole blanks, for a line of a table: <c>4 of tab from a blank</c>; empty where no part leaves it open.</summary>
    public static string Short(Plan plan) => string.Join(", ", plan.Job.Parts.Where(part => part is { PerBlank: not null, Gang: not { Rest: true } })
        .Select(part => string.Create(CultureInfo.InvariantCulture, $"{part.Gang?.Parts ?? 1} of {string.Join(" + ", GangOptions.MembersOf(part))} from a blank")));

    /// <summary>Every kind of blank with several parts, and how many of it there are: <c>2 x tab ×4; 1 x tab ×2</c>.</summary>
    public static string Table(Plan plan) => string.Join("; ", plan.Job.Parts.Where(part => part.Gang is not null)
        .Select(part => string.Create(CultureInfo.InvariantCulture, $"{part.Gang!.Blanks} x {part.Id}")));

    /// <summary>That a name is a blank's, behind a number of it; empty where it is a part's.</summary>
    public static string Blanks(Plan plan, string name) => plan.Job.Parts.FirstOrDefault(part => part.Id == name)?.Gang is { } gang
        ? string.Create(CultureInfo.InvariantCulture, $", a blank for {gang.Parts} each") : "";
}
