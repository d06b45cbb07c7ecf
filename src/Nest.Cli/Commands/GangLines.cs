using System.Globalization;
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
}
