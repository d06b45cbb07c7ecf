using System.Text;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Output.Sheets;

namespace Nest.Output.Tablet;

/// <summary>The tablet page as a server gives it out: style, script and counts have addresses there.</summary>
/// <param name="Style">Address of <see cref="StyleBytes"/>.</param>
/// <param name="Script">Address of <see cref="ScriptBytes"/>.</param>
/// <param name="Counts">Address that tells the counts of the plan (GET) and takes ticks (POST).</param>
/// <param name="Miscut">Address, with a layout's number behind it, where a stock piece that went wrong is told.</param>
public sealed record TabletServed(string Style, string Script, string Counts, string Miscut)
{
    /// <summary>The page's style sheet.</summary>
    public static byte[] StyleBytes => Encoding.UTF8.GetBytes(Resource("tablet.css"));

    /// <summary>The page's script.</summary>
    public static byte[] ScriptBytes => Encoding.UTF8.GetBytes(Resource("tablet.js"));

    /// <summary>The page of a plan.</summary>
    public byte[] Page(Plan plan, OutputOptions options) => TabletPage.Bytes(new SheetContext(plan, options), options.Work ?? CutSequencer.Order(plan), this);

    /// <summary>The page as a file of its own: all is inside, the browser keeps the counts.</summary>
    public static byte[] File(Plan plan, OutputOptions options) => TabletPage.Bytes(new SheetContext(plan, options), options.Work ?? CutSequencer.Order(plan));

    /// <summary>The steps that are counted, by name, and how often each is made; and under which step whole stock pieces of a layout are counted.</summary>
    public static IReadOnlyDictionary<string, TabletCount> Counted(Plan plan, OutputOptions options)
    {
        var context = new SheetContext(plan, options);
        var steps = new TabletSteps(context);
        var (rack, delivery) = Cautions.Lines(context.Plan);
        var counts = steps.Cautions().Concat(steps.Stock(rack, "rack")).Concat(steps.Stock(delivery, "delivery"))
            .ToDictionary(step => step.Id, step => new TabletCount(step.Count, 0), StringComparer.Ordinal);
        foreach (var item in (options.Work ?? CutSequencer.Order(plan)).Items)
        {
            foreach (var step in steps.Of(item))
            {
                counts.Add(step.Id, new(step.Count, step.Id == FinishedId(item.Layout) ? item.Layout : 0));
            }
        }

        return counts;
    }

    /// <summary>Step under which whole stock pieces of a layout are counted: what the rack books.</summary>
    public static string FinishedId(int layout) => FormattableString.Invariant($"l{layout}-done");

    internal static string Resource(string name)
    {
        using var stream = typeof(TabletServed).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"{name} is not embedded.");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return reader.ReadToEnd().Replace("\r\n", "\n", StringComparison.Ordinal);
    }
}

/// <summary>How often a step of the tablet page is made.</summary>
/// <param name="Most">Times.</param>
/// <param name="Finishes">Number of the layout whose whole stock pieces are counted here; 0: of none.</param>
public sealed record TabletCount(int Most, int Finishes);
