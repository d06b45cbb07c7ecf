using System.CommandLine;
using Nest.Bench.Plates;

namespace Nest.Bench;

/// <summary>Measures the kernels on published and made instances.</summary>
internal static class Program
{
    public static int Main(string[] args)
    {
        var root = new RootCommand("Measures the kernels of Nest");
        root.Subcommands.Add(PlatesCommand.Create());
        return root.Parse(args).Invoke();
    }
}
