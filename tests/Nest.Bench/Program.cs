using System.CommandLine;
using Nest.Bench.Bars;

namespace Nest.Bench;

/// <summary>Measurements against published instances; one command per kind.</summary>
internal static class Program
{
    public static int Main(string[] args)
    {
        var root = new RootCommand("Measures the solvers against published instances.")
        {
            BarsCommand.Create(),
            BarsMadeCommand.Create(),
        };
        return root.Parse(args).Invoke();
    }
}
