using System.Globalization;
using System.Text;
using Nest.Output.Folders;

namespace Nest.RackStress;

/// <summary>A process that writes one plan after the other into the same folder and says so after each.</summary>
/// <remarks>Plan n has files of its own number, sizes and names; each begins with <c>plan n</c>, so that a look at a file tells whose it is.</remarks>
internal static class FolderWorker
{
    private const int MostBytes = 60_000;

    /// <param name="first">Number of the first plan.</param>
    /// <param name="dawdle">Longest pause before a step, in milliseconds; makes kills fall between any two.</param>
    public static int Run(string folder, int first, int plans, int dawdle, Stream output)
    {
        var random = new Random(first);
        Say("ready");
        for (var plan = first; plan < first + plans; plan++)
        {
            Write(folder, plan, dawdle == 0 ? null : _ => Thread.Sleep(random.Next(dawdle + 1)));
            Say(plan.ToString(CultureInfo.InvariantCulture));
        }

        return 0;

        void Say(string line)
        {
            output.Write(Encoding.UTF8.GetBytes(line + "\n"));
            output.Flush();
        }
    }

    /// <summary>Writes plan <paramref name="plan"/> as every command does.</summary>
    public static void Write(string folder, int plan, Action<string>? before = null) =>
        FolderWriter.For(folder, before, threads: 1).Write(Mark(plan), Names(plan).Select(name => new FileMaker(() => [(name, Bytes(plan, name))])));

    public static string Mark(int plan) => string.Create(CultureInfo.InvariantCulture, $"plan {plan}");

    /// <summary>The plan that a file is of.</summary>
    public static string MarkIn(string path) => File.ReadLines(path).FirstOrDefault() ?? "";

    /// <summary>Some names are every plan's, some come and go, in folders that come and go with them.</summary>
    public static IReadOnlyList<string> Names(int plan) =>
    [
        "cut-sheet.pdf", "tablet.html", "data/plan.json",
        .. Enumerable.Range(1, 1 + plan % 4).Select(at => string.Create(CultureInfo.InvariantCulture, $"pictures/layout-{at:000}.png")),
        .. plan % 3 == 0 ? [] : new[] { $"orders/{(plan % 3 == 1 ? "a" : "b")}.pdf" },
    ];

    private static byte[] Bytes(int plan, string name)
    {
        var random = new Random(plan + name.Length);
        var filling = new byte[random.Next(MostBytes)];
        random.NextBytes(filling);
        return [.. Encoding.UTF8.GetBytes(Mark(plan) + "\n"), .. filling];
    }
}
