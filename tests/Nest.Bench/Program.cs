using Nest.Bench.Bars;
using Nest.Bench.Plates;
using System.CommandLine;

namespace Nest.Bench;

/// <summary>Measures the kernels on published and made instances; one command per kind.</summary>
internal static class Program
{
    public static int Main(string[] args)
    {
        var root = new RootCommand("Measures the kernels of Nest.")
        {
            BarsCommand.Create(),
            PlatesCommand.Create(),
            PlateValueCommand.Create(),
            BarsMadeCommand.Create(),
            PlatesMadeCommand.Create(),
            Ordering.OrderMadeCommand.Create(),
            Frozen.FrozenCommand.Create(),
            Proofs.ProofsCommand.Create(),
            Writing.WriteCommand.Create(),
            Engines.EnginesCommand.Create(),
        };
        return root.Parse(args).Invoke();
    }
}
