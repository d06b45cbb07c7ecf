using System.Diagnostics;
using System.Globalization;
using System.IO.Compression;
using System.Text;
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

    private static readonly string[] Odd =
    [
        "nan", "-inf", "1e308", "-1e-308", "0", "-0", "99999999999999999999", "-1", "1e7", "2147483648", "", "#1", "$", "*", "()", "''", "/*", "*/", "\\X2\\D800\\X0\\", "0x10", "1,5", "\0", "\n", ";",
        "&a;", "<!DOCTYPE a [<!ENTITY a \"b\">]>", "../../x", "facet", "endsolid", "LINE", "CIRCLE", "PLANE", "(((((((((((((((((((((((((((((((((((((",
    ];

    private readonly (string Name, byte[] Bytes)[] files;

    public ModelFuzz(string folder)
    {
        files = [.. Directory.GetFiles(folder).Where(ModelReader.IsModel).Order(StringComparer.Ordinal).Select(file => (Path.GetFileName(file), File.ReadAllBytes(file)))];
        if (files.Length == 0)
        {
            throw new ArgumentException($"There are no models in {folder}.");
        }
    }

    public IReadOnlyList<ModelFailure> Run(int seed, int count, Action<string> tell)
    {
        var failures = new List<ModelFailure>();
        var (models, slowest, slow) = (0, 0.0, "");
        var begun = Stopwatch.StartNew();
        for (var number = 0; number < count; number++)
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
            if ((number + 1) % 20000 == 0)
            {
                tell(string.Create(CultureInfo.InvariantCulture, $"{number + 1} inputs, {models} read, {failures.Count} failures, {begun.Elapsed.TotalSeconds:0} s"));
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

        var archive = name.EndsWith(".3mf", StringComparison.Ordinal) && random.Next(4) > 0;
        return (name, archive ? Inside(bytes, random) : Change(bytes, random));
    }

    private static bool Read(string name, byte[] bytes, int number)
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

    private static byte[] Inside(byte[] bytes, Random random)
    {
        using var changed = new MemoryStream();
        using (var from = new ZipArchive(new MemoryStream(bytes), ZipArchiveMode.Read))
        using (var to = new ZipArchive(changed, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var entry in from.Entries)
            {
                using var content = new MemoryStream();
                using (var stream = entry.Open())
                {
                    stream.CopyTo(content);
                }

                using var target = to.CreateEntry(random.Next(40) == 0 ? "../" + entry.FullName : entry.FullName).Open();
                target.Write(entry.FullName.EndsWith(".model", StringComparison.Ordinal) || random.Next(10) == 0 ? Change(content.ToArray(), random) : content.ToArray());
            }
        }

        return changed.ToArray();
    }

    private static byte[] Change(byte[] bytes, Random random)
    {
        var list = new List<byte>(bytes);
        for (var times = 1 + random.Next(1 + random.Next(8)); times > 0 && list.Count > 0; times--)
        {
            var at = random.Next(list.Count);
            var length = Math.Min(list.Count - at, 1 + random.Next(1 << random.Next(10)));
            switch (random.Next(9))
            {
                case 0:
                    list[at] = (byte)random.Next(256);
                    break;
                case 1:
                    list[at] ^= (byte)(1 << random.Next(8));
                    break;
                case 2:
                    list.RemoveRange(at, length);
                    break;
                case 3:
                    list.InsertRange(random.Next(list.Count), list.GetRange(at, length));
                    break;
                case 4:
                    list.RemoveRange(at, list.Count - at);
                    break;
                case 5 or 6:
                    Number(list, at, random);
                    break;
                case 7:
                    list.InsertRange(at, Encoding.UTF8.GetBytes(Odd[random.Next(Odd.Length)]));
                    break;
                default:
                    Line(list, at, random);
                    break;
            }
        }

        return [.. list];
    }

    // The number at or behind the place becomes another, or that of another place.
    private static void Number(List<byte> list, int at, Random random)
    {
        var start = list.FindIndex(at, IsDigit);
        if (start < 0)
        {
            return;
        }

        var (from, length) = (start, Length(list, start));
        var other = list.FindIndex(random.Next(list.Count), IsDigit);
        var text = random.Next(3) == 0 || other < 0 ? Encoding.UTF8.GetBytes(Odd[random.Next(Odd.Length)]) : [.. list.GetRange(other, Length(list, other))];
        list.RemoveRange(from, length);
        list.InsertRange(from, text);

        static bool IsDigit(byte b) => b is >= (byte)'0' and <= (byte)'9' or (byte)'-' or (byte)'.';

        static int Length(List<byte> list, int start)
        {
            var end = start;
            while (end < list.Count && end - start < 40 && (IsDigit(list[end]) || list[end] is (byte)'E' or (byte)'e' or (byte)'+'))
            {
                end++;
            }

            return end - start;
        }
    }

    // A line is left out, or put elsewhere too.
    private static void Line(List<byte> list, int at, Random random)
    {
        var start = at == 0 ? 0 : list.LastIndexOf((byte)'\n', at - 1) + 1;
        var end = list.IndexOf((byte)'\n', at) + 1;
        if (end <= start)
        {
            return;
        }

        var line = list.GetRange(start, end - start);
        if (random.Next(2) == 0)
        {
            list.RemoveRange(start, end - start);
        }
        else
        {
            list.InsertRange(Math.Max(0, list.IndexOf((byte)'\n', random.Next(list.Count)) + 1), line);
        }
    }
}
