// The one test of the project by which the mutating tool is given an assembly: it keeps a copy of the mutated file and runs none of its code.
// It comes by one mutant, as the tool would otherwise take its measuring for broken and run the test against every mutant.
using System.Reflection;
using Xunit;

public sealed class KeepMutated
{
    [Fact]
    public void Copy()
    {
        var name = Environment.GetEnvironmentVariable("NEST_MUTATED_NAME")!;
        File.Copy(Path.Combine(AppContext.BaseDirectory, name + ".dll"), Path.Combine(Environment.GetEnvironmentVariable("NEST_MUTATED")!, name + ".dll"), overwrite: true);
        Assembly.Load(name).GetTypes().FirstOrDefault(type => type.Name == "MutantControl")?.GetMethod("IsActive")!.Invoke(null, [1]);
    }
}
