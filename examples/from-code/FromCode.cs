using System.Globalization;
using System.Text;
using Nest.Output;
using Nest.Planning;

namespace Nest.Examples;

/// <summary>The whole way from a parts list to a drawing by the library's own calls.</summary>
public static class FromCode
{
    private const string Parts = """
        part,material,length (mm),width (mm),thickness (mm),quantity
        foot,6082-T6,120,80,10,8
        lug,6082-T6,50,30,10,24
        """;

    /// <returns>0; 2 where the list is refused, 4 where the plan does not pass its check.</returns>
    public static int Run(string folder, TextWriter output)
    {
        // Bad input never throws: it comes back as findings that say where, what, and what to do.
        using var list = new MemoryStream(Encoding.UTF8.GetBytes(Parts));
        var job = Planner.Read(list, "parts.csv");
        foreach (var finding in job.Findings)
        {
            output.WriteLine(finding);
        }

        if (job.Value is null)
        {
            return 2;
        }

        // A limit in work instead of seconds: the same plan on every machine.
        var planned = Planner.Plan(job.Value, new PlanOptions { Work = 2_000, Threads = 1 });
        if (planned.Plan is not { } plan)
        {
            return 4;
        }

        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{plan.Job.Currency} {plan.TotalCost.Amount:0.00} in {plan.Layouts.Length} layouts; nothing costs less than {plan.Bound.Value?.Amount:0.00} ({plan.Status})"));

        // Plan has been checked already; a plan that comes from elsewhere is checked so, and drawn only then.
        if (!Planner.Check(plan).IsEmpty)
        {
            return 4;
        }

        Directory.CreateDirectory(folder);
        using (var sheet = File.Create(Path.Combine(folder, "cut-sheet.pdf")))
        {
            PlanDrawing.CutSheet(plan, Paper.A4, sheet);
        }

        using (var picture = File.Create(Path.Combine(folder, "layout-1.png")))
        {
            PlanDrawing.Layout(plan, plan.Layouts[0].Number, PictureFormat.Png, picture);
        }

        foreach (var finding in Planner.Save(plan, Path.Combine(folder, "plan.json")))
        {
            output.WriteLine(finding);
        }

        return 0;
    }
}
