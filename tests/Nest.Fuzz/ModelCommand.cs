using System.Globalization;

namespace Nest.Fuzz;

/// <summary><c>models --data DIR --count N --seed S [--keep DIR]</c>: ends with 1 when a reader threw or was too slow.</summary>
internal static class ModelCommand
{
    public const string Help = "models [--data DIR] [--count N] [--first N] [--seed S] [--keep DIR]";

    public static int Run(string[] arguments)
    {
        var count = int.Parse(Value("--count") ?? "10000", CultureInfo.InvariantCulture);
        var seed = int.Parse(Value("--seed") ?? "1", CultureInfo.InvariantCulture);
        var failures = new ModelFuzz(Value("--data") ?? "tests/Nest.Tests/Models/files").Run(seed, count, Console.WriteLine, int.Parse(Value("--first") ?? "0", CultureInfo.InvariantCulture));
        if (Value("--keep") is { } folder)
        {
            Directory.CreateDirectory(folder);
            foreach (var failure in failures)
            {
                File.WriteAllBytes(Path.Combine(folder, $"{failure.Number}-{failure.Name}"), failure.Bytes);
            }
        }

        return failures.Count == 0 ? 0 : 1;

        string? Value(string name) => Array.IndexOf(arguments, name) is >= 0 and var at && at + 1 < arguments.Length ? arguments[at + 1] : null;
    }
}
