using System.Globalization;
using Nest.Rack.Marks;

namespace Nest.Cli.Commands.Rack;

/// <summary>A text file of marks that were found: one on each line, behind a comma the place; lines that begin with # are remarks.</summary>
internal static class FoundList
{
    /// <returns>False when a line is refused; all that are wrong are told, each with its number.</returns>
    public static bool TryRead(string path, TextWriter errors, List<(string Mark, string Place)> found)
    {
        var good = true;
        var number = 0;
        foreach (var text in File.ReadLines(path))
        {
            number++;
            var line = text.Trim();
            if (line.Length == 0 || line[0] == '#')
            {
                continue;
            }

            var comma = line.IndexOf(',', StringComparison.Ordinal);
            var (mark, place) = comma < 0 ? (line, "") : (line[..comma].Trim(), line[(comma + 1)..].Trim());
            if (!PieceMark.TryRead(mark, out _, out var error))
            {
                errors.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{path}:{number}:1: error: {error} — enter it as it is painted"));
                good = false;
            }

            found.Add((mark, place));
        }

        return good;
    }
}
