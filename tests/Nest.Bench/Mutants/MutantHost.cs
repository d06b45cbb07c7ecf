// Runs the tests of a room against mutants, many in one process. Made by mutation.sh into a program of its own together with the tests of the room;
// the bench itself leaves this file out.
//   measure OUT        every test once without a mutant: its milliseconds, and the mutants it came by
//   test TASKS OUT     a line for each task, "ID TEST:SECONDS TEST:SECONDS …": the tests in turn until one fails or takes longer
//   prepare            nothing, but shows that the program starts
// A test that fails is run again without the mutant. When it fails then too, the mutant has left something behind: the line says "dirty", the program
// ends, and the driver takes that mutant in a process of its own. The limit of a test is processor time, so a busy machine kills nothing.
using System.Diagnostics;
using System.Globalization;
using System.Reflection;
using Xunit;
using Xunit.Sdk;

var tests = MutantTests.All();
var switches = MutantSwitches.Find();
switch (args)
{
    case ["measure", var file]:
        using (var lines = new StreamWriter(file))
        {
            foreach (var (name, run) in tests)
            {
                switches.Capture(true);
                var watch = Stopwatch.StartNew();
                run();
                var milliseconds = watch.ElapsedMilliseconds;
                switches.Capture(false);
                watch.Restart();
                run();
                lines.WriteLine($"{name}\t{watch.ElapsedMilliseconds}\t{string.Join(' ', switches.Covered())}\t{string.Join(' ', switches.Statics())}");
            }
        }

        return 0;
    case ["test", var tasks, var outcome]:
        using (var lines = new StreamWriter(outcome, append: true) { AutoFlush = true })
        {
            foreach (var task in File.ReadLines(tasks).Select(line => line.Split(' ')))
            {
                lines.WriteLine($"{task[0]} begun");
                var verdict = MutantTests.Verdict(int.Parse(task[0], CultureInfo.InvariantCulture), task.Skip(1).Select(word => word.Split(':')).Select(word => (word[0], tests[word[0]], double.Parse(word[1], CultureInfo.InvariantCulture))), switches);
                lines.WriteLine($"{task[0]} {verdict}");
                if (verdict.StartsWith("dirty", StringComparison.Ordinal) || verdict.StartsWith("late", StringComparison.Ordinal))
                {
                    // Not Exit: a test that does not end, in native code too, would keep the process.
                    using var self = Process.GetCurrentProcess();
                    self.Kill();
                }
            }
        }

        return 0;
    default:
        Console.WriteLine($"{tests.Count} tests");
        return args is ["prepare"] ? 0 : 1;
}

/// <summary>What the mutating tool has put into the assembly under test: which mutant is on, and which ones were come by.</summary>
internal sealed class MutantSwitches(Type control)
{
    private const BindingFlags Any = BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic;

    public static MutantSwitches Find() => new(Directory.EnumerateFiles(AppContext.BaseDirectory, "Nest.*.dll")
        .Select(file => Assembly.Load(Path.GetFileNameWithoutExtension(file))).SelectMany(assembly => assembly.GetTypes())
        .Single(type => type.Name == "MutantControl"));

    public void Activate(int mutant) => control.GetField("ActiveMutant", Any)!.SetValue(null, mutant);

    public void Capture(bool on)
    {
        Activate(-1);
        control.GetField("CaptureCoverage", Any)!.SetValue(null, on);
        if (on)
        {
            control.GetMethod("ResetCoverage", Any)!.Invoke(null, null);
        }
    }

    public IReadOnlyCollection<int> Covered() => [.. (List<int>)control.GetField("_coveredMutants", Any)!.GetValue(null)!];

    public IReadOnlyCollection<int> Statics() => [.. (List<int>)control.GetField("_coveredStaticMutants", Any)!.GetValue(null)!];
}

/// <summary>The tests of the room, as plain calls.</summary>
internal static class MutantTests
{
    public static SortedDictionary<string, Action> All()
    {
        var found = new SortedDictionary<string, Action>(StringComparer.Ordinal);
        foreach (var type in typeof(MutantTests).Assembly.GetTypes().Where(type => type is { IsAbstract: false, IsClass: true }))
        {
            foreach (var method in type.GetMethods().Where(method => method.GetCustomAttribute<FactAttribute>() is { Skip: null }))
            {
                found.Add($"{type.Name}.{method.Name}", () => RunAll(type, method));
            }
        }

        return found;
    }

    /// <summary>"killed TEST", "late TEST", "dirty TEST" or "survived".</summary>
    public static string Verdict(int mutant, IEnumerable<(string Name, Action Run, double Seconds)> tests, MutantSwitches switches)
    {
        foreach (var (name, run, seconds) in tests)
        {
            switches.Activate(mutant);
            var passed = Passes(run, seconds);
            switches.Activate(-1);
            if (passed is null)
            {
                return $"late {name}";
            }

            if (passed is false)
            {
                return Passes(run, seconds) is true ? $"killed {name}" : $"dirty {name}";
            }
        }

        return "survived";
    }

    /// <summary>Null: it takes more processor time than the limit.</summary>
    private static bool? Passes(Action run, double seconds)
    {
        bool? passed = null;
        var thread = new Thread(
            () =>
            {
                try
                {
                    run();
                    passed = true;
                }
#pragma warning disable CA1031 // whatever a test throws, it has failed
                catch (Exception)
                {
                    passed = false;
                }
#pragma warning restore CA1031
            },
            64 << 20)
        { IsBackground = true };
        using var process = Process.GetCurrentProcess();
        var before = process.TotalProcessorTime;
        thread.Start();
        for (var waited = 0; !thread.Join(waited < 100 ? 10 : 50); waited++)
        {
            process.Refresh();
            if ((process.TotalProcessorTime - before).TotalSeconds > seconds || waited > 1200)
            {
                return null;
            }
        }

        return passed;
    }

    private static void RunAll(Type type, MethodInfo method)
    {
        var data = method.GetCustomAttributes<DataAttribute>().ToList();
        foreach (var row in data.Count == 0 ? [[]] : data.SelectMany(one => one.GetData(method)))
        {
            var parameters = method.GetParameters();
            var values = parameters.Select((parameter, i) => i < row.Length ? Fitting(row[i], parameter.ParameterType) : parameter.DefaultValue).ToArray();
            if (parameters is [.., var last] && last.IsDefined(typeof(ParamArrayAttribute)) && (row.Length != parameters.Length || row[^1] is not Array))
            {
                var rest = row.Skip(parameters.Length - 1).ToArray();
                var array = Array.CreateInstance(last.ParameterType.GetElementType()!, rest.Length);
                Array.Copy(rest, array, rest.Length);
                values[^1] = array;
            }

            var test = Activator.CreateInstance(type);
            try
            {
                (method.Invoke(test, values) as Task)?.GetAwaiter().GetResult();
            }
            finally
            {
                (test as IDisposable)?.Dispose();
            }
        }
    }

    private static object? Fitting(object? value, Type type)
    {
        type = Nullable.GetUnderlyingType(type) ?? type;
        return value is null || type.IsInstanceOfType(value) || type.IsEnum || type.IsArray ? value : Convert.ChangeType(value, type, CultureInfo.InvariantCulture);
    }
}
