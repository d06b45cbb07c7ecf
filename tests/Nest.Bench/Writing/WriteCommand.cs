using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Output;

namespace Nest.Bench.Writing;

/// <summary>`write`: the time that the folder of a plan takes, or that of many unlike bars made from its first bar.</summary>
internal static class WriteCommand
{
    private const int Blanks = 6;

    public static Command Create()
    {
        var input = new Argument<string>("plan") { Description = "A plan file" };
        var bars = new Option<int>("--bars") { Description = "So many unlike layouts of the plan's first bar instead", DefaultValueFactory = _ => 0 };
        var command = new Command("write", "Time of writing all files of a plan") { input, bars };
        command.SetAction(parse => Run(parse.GetRequiredValue(input), parse.GetValue(bars)));
        return command;
    }

    private static int Run(string input, int bars)
    {
        if (PlanFile.Read(input).Value is not { } plan)
        {
            Console.Error.WriteLine("The plan cannot be read; nest check tells why.");
            return 2;
        }

        plan = bars > 0 ? Unlike(plan, bars) : plan;
        var folder = Directory.CreateTempSubdirectory("nest-write").FullName;
        try
        {
            // The first run loads fonts and compiles; the second is what counts.
            foreach (var run in new[] { "first", "second" })
            {
                var (watch, before) = (Stopwatch.StartNew(), Process.GetCurrentProcess().TotalProcessorTime);
                var files = OutputFolder.Write(plan, Path.Combine(folder, run), new OutputOptions()).Files.Count;
                var processor = (Process.GetCurrentProcess().TotalProcessorTime - before).TotalSeconds;
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{run}: {files} files, {watch.Elapsed.TotalSeconds:0.0} s, processor {processor:0.0} s"));
            }
        }
        finally
        {
            Directory.Delete(folder, true);
        }

        return 0;
    }

    // Six blanks a bar, each bar with other lengths.
    private static Plan Unlike(Plan plan, int bars)
    {
        var model = plan.Layouts.First(layout => plan.StockOf(layout).Form.IsBar() && layout.Tree is not null);
        var kerf = plan.SawOf(model).Kerf;
        return plan with { Orders = [], Layouts = [.. Enumerable.Range(0, bars).Select(One)] };

        Layout One(int bar)
        {
            var (pieces, nodes, x) = (new List<PlacedPiece>(), new List<CutNode>(), model.Usable.X);
            for (var at = 0; at < Blanks; at++)
            {
                var size = Length.FromMillimetres(100 + (bar % 250) + (at * 7) + (bar / 250 * 0.25m));
                pieces.Add(new(model.Pieces[0].PartId, new(x, Length.Zero, size, model.Usable.SizeY), false));
                nodes.Add(new() { Kind = CutNodeKind.Piece, Area = pieces[^1].Area, Index = at });
                x += size + kerf;
            }

            var rest = new Rect(x, Length.Zero, model.Usable.Right - x, model.Usable.SizeY);
            nodes.Add(new() { Kind = CutNodeKind.Offcut, Area = rest, Index = 0 });
            return model with
            {
                Number = bar + 1,
                Count = 1,
                Pieces = [.. pieces],
                Offcuts = [new(rest, true, Money.FromAmount(1))],
                Tree = new() { Kind = CutNodeKind.Split, Area = model.Usable, Direction = CutDirection.Crosscut, Children = [.. nodes] },
            };
        }
    }
}
