using System.Globalization;

namespace Nest.RackStress;

/// <summary>The rack and a plan's folder under stress: <c>kill [n]</c>, <c>folder-kill [n]</c>, <c>crowd [processes] [operations]</c>, <c>model [operations]</c>,
/// <c>size [pieces]</c>. Ends with 1 when anything was lost.</summary>
internal static class Program
{
    public static int Main(string[] arguments)
    {
        if (arguments is ["work", var path, ..])
        {
            return Worker.Run(path, Number(2), Number(3), Number(4), TimeSpan.FromSeconds(Number(5)), Console.OpenStandardOutput());
        }

        if (arguments is ["folder", var place, _, _, _])
        {
            return FolderWorker.Run(place, Number(2), Number(3), Number(4), Console.OpenStandardOutput());
        }

        if (arguments is ["probe", var rackFile])
        {
            return Probe(rackFile);
        }

        var folder = Directory.CreateTempSubdirectory("nest-rack-stress-").FullName;
        var rack = Path.Combine(folder, "rack.db");
        try
        {
            switch (arguments)
            {
                case ["kill", ..]:
                    var killed = KillTest.Run(rack, Number(1, 1000), Number(2, 1), Console.WriteLine);
                    Console.WriteLine($"{killed.Kills} kills, {killed.Changes} changes; {killed.InTransaction} kills inside a transaction, {killed.Unsaid} between commit and answer; {killed.Failures.Count} failures");
                    return Report(killed.Failures);
                case ["folder-kill", ..]:
                    var written = FolderKillTest.Run(Path.Combine(folder, "out"), Number(1, 1000), Number(2, 1), Console.WriteLine);
                    Console.WriteLine($"{written.Kills} kills, {written.Plans} plans written; {written.WhileMade} kills while files were made, {written.WhileMoved} while they were moved; {written.Failures.Count} failures");
                    return Report(written.Failures);
                case ["crowd", ..]:
                    var crowd = CrowdTest.Run(rack, Number(1, 8), Number(2, 200), Number(3, 1));
                    Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{crowd.Processes} processes, {crowd.Changes} changes in {crowd.Seconds:0.0} s, {crowd.Refused} refused, {crowd.InUse} in use, {crowd.Failures.Count} failures"));
                    return Report(crowd.Failures);
                case ["model", ..]:
                    using (var model = new ModelTest(rack, Number(2, 1)))
                    {
                        var difference = model.Run(Number(1, 100_000), Console.WriteLine);
                        Console.WriteLine(string.Join(", ", model.Done.Select(pair => $"{pair.Value} {pair.Key}")));
                        return Report(difference is null ? [] : [difference]);
                    }

                case ["size", ..]:
                    Console.WriteLine(SizeTest.Run(rack, Number(1, 50_000)));
                    return 0;
                default:
                    Console.Error.WriteLine("kill [n] [seed] | folder-kill [n] [seed] | crowd [processes] [operations] [seed] | model [operations] [seed] | size [pieces]");
                    return 1;
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }

        int Number(int index, int otherwise = 0) =>
            index < arguments.Length ? int.Parse(arguments[index], CultureInfo.InvariantCulture) : otherwise;
    }

    /// <summary>Reads a rack and tries to change it: what another user of the machine sees.</summary>
    private static int Probe(string path)
    {
        try
        {
            using var store = Nest.Rack.RackStore.Open(path);
            var pieces = store.List(new());
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{pieces.Length} pieces"));
            store.Move([pieces[0].Mark], "X1");
            return 1;
        }
        catch (Nest.Rack.RackException fault)
        {
            Console.WriteLine(fault.Message);
            return 0;
        }
    }

    private static int Report(IReadOnlyCollection<string> failures)
    {
        foreach (var failure in failures)
        {
            Console.WriteLine(failure);
        }

        return failures.Count == 0 ? 0 : 1;
    }
}
