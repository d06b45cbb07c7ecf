using System.CommandLine;
using Nest.Judge.Runs;

namespace Nest.Judge;

/// <summary>Judges the planner by true optima.</summary>
internal static class Program
{
    public static int Main(string[] args)
    {
        var root = new RootCommand("Judges plans and bounds of Nest by enumeration.") { RunCommand.Create(), CrossCommand.Create(), WriteCommand.Create(), FileCommand.Create(), StrikeCommand.Create() };
        return root.Parse(args).Invoke();
    }
}
