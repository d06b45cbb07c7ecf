using System.Diagnostics;
using System.Globalization;
using Nest.Core.Quantities;
using Nest.Core.Solids;
using Nest.Data.Models;

namespace Nest.Fuzz;

/// <summary>An input that a reader did not stand.</summary>
/// <param name="Number">Its number in the run: with the run's seed it is made again.</param>
internal sealed record ModelFailure(int Number, string Name, byte[] Bytes, string What);

/// <summary>Model files changed at random, each from its own seed: bytes and numbers replaced, pieces left out, doubled, exchanged, cut off; archives
/// also inside. A reader must answer with a model or findings, never an exception, and within five seconds of processor time.</summary>
internal sealed class ModelFuzz
{
    private const double MostSeconds = 5;

    private readonly (string Name, byte[] Bytes)[] files;

    public ModelFuzz(string folder)
        : this([folder], "")
    {
    }

    /// <param name="ending">What the names end with; empty: all models.</param>
    public ModelFuzz(IReadOnlyList<string> folders, string ending)
    {
        files = [.. folders.SelectMany(Directory.GetFiles).Where(file => ModelReader.IsModel(file) && file.EndsWith(ending, StringComparison.OrdinalIgnoreCase)).Order(StringComparer.Ordinal).Select(file => (Path.GetFileName(file), File.ReadAllBytes(file)))];
        if (files.Length == 0)
        {
            throw new ArgumentException($"There are no models in {string.Join(", ", folders)}.");
        }
    }

    /// <param name="first">Number of the first input: one alone is made again so.</param>
    public IReadOnlyList<ModelFailure> Run(int seed, int count, Action<string> tell, int first = 0)
    {
        var failures = new List<ModelFailure>();
        var (models, slowest, slow) = (0, 0.0, "");
        var begun = Stopwatch.StartNew();
        for (var number = first; number < first + count; number++)
        {
            var (name, bytes) = Make(seed, number);
            var watch = Stopwatch.StartNew();
            var processor = Process.GetCurrentProcess().TotalProcessorTime;
            try
            {
                models += Read(name, bytes, number) ? 1 : 0;
            }
            catch (Exception problem)
            {
                failures.Add(new(number, name, bytes, problem.ToString()));
                tell($"{number} {name}: {problem}");
            }

            var seconds = watch.Elapsed.TotalSeconds;
            if (seconds > 1)
            {
                seconds = Math.Min(seconds, (Process.GetCurrentProcess().TotalProcessorTime - processor).TotalSeconds);
            }

            if (seconds > MostSeconds)
            {
                failures.Add(new(number, name, bytes, $"{seconds:0.0} s"));
                tell($"{number} {name}: {seconds:0.0} s");
            }

            (slowest, slow) = seconds > slowest ? (seconds, $"{number} {name}") : (slowest, slow);
            if ((number + 1 - first) % 20000 == 0)
            {
                tell(string.Create(CultureInfo.InvariantCulture, $"{number + 1 - first} inputs, {models} read, {failures.Count} failures, {begun.Elapsed.TotalSeconds:0} s"));
            }
        }

        tell(string.Create(
            CultureInfo.InvariantCulture,
            $"{count} inputs, seed {seed}: {models} read as models, {failures.Count} failures, slowest {slowest:0.00} s ({slow}), {begun.Elapsed.TotalSeconds:0} s in all"));
        return failures;
    }

    /// <summary>The input of this number.</summary>
    public (string Name, byte[] Bytes) Make(int seed, int number)
    {
        var random = new Random(unchecked((seed * 1_000_003) + number));
        // Small files more often: they cost less and hold the same words.
        var (name, bytes) = files[random.Next(files.Length)];
        for (var i = 0; i < 3 && bytes.Length > 4000 * (1 << random.Next(5)); i++)
        {
            (name, bytes) = files[random.Next(files.Length)];
        }

        return (name, FileChange.Of(bytes, random));
    }

    /// <summary>Whether it is a model; throws when the answer is wrong.</summary>
    /// <param name="number">Of every fortieth the whole search for boxes is made.</param>
    public static bool Read(string name, byte[] bytes, int number)
    {
        var result = ModelReader.Read(new MemoryStream(bytes), name, new(name.Contains("no_unit", StringComparison.Ordinal) ? "mm" : null, Length.FromMillimetres(6)));
        if (result.Value is not { } model)
        {
            return result.HasErrors ? false : throw new InvalidOperationException("Neither a model nor an error.");
        }

        foreach (var part in model.Parts.Take(4))
        {
            var box = part.Body.BoxAlong(new(1, 0, 0), new(0, 1, 0), new(0, 0, 1));
            if (!box.Size.IsFinite)
            {
                throw new InvalidOperationException("A box without end.");
            }

            // The whole search costs more than the reading.
            if (number % 40 == 0 && BoxSearch.Of(part.Body) is { } boxes)
            {
                if (boxes.Smallest.Volume > box.Volume * (1 + 1e-6) || !(boxes.Gap >= 0))
                {
                    throw new InvalidOperationException("The smallest box is larger than another.");
                }

                SameBody.Compare(part.Body, model.Parts[0].Body);
            }
        }

        return true;
    }
}
