using System.Globalization;
using System.Text;
using System.Text.Json;

namespace Nest.Desk.Model;

/// <summary>The counts of one plan: a file that only grows, a line for each tick. What is confirmed outlasts a killed program; a tick that is told again
/// is known by its name.</summary>
/// <remarks>Not safe for several threads at once: <see cref="SawBook"/> takes them one after the other.</remarks>
internal sealed class TickFile
{
    private readonly string _path;
    private readonly HashSet<string> _names = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int> _counts = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> _notes = new(StringComparer.Ordinal);
    private readonly List<Line> _fresh = [];

    /// <summary>One line: a tick, or a note at a step.</summary>
    private sealed record Line(string? Id, string Step, int Add, string Device, DateTimeOffset At, string? Note = null);

    public TickFile(string path)
    {
        _path = path;
        if (!File.Exists(path))
        {
            return;
        }

        foreach (var text in File.ReadLines(path))
        {
            try
            {
                if (JsonSerializer.Deserialize<Line>(text) is { Step: not null } line)
                {
                    Take(line);
                }
            }
            catch (JsonException)
            {
                // A line that was being written when the program was killed: it was never confirmed.
            }
        }
    }

    public IReadOnlyDictionary<string, int> Counts => _counts;

    /// <summary>What is to be told at a step: the marks that the rack gave.</summary>
    public IReadOnlyDictionary<string, string> Notes => _notes;

    public bool Knows(string id) => _names.Contains(id);

    public int Count(string step) => _counts.GetValueOrDefault(step);

    /// <summary>Takes a tick; it lasts once <see cref="Keep"/> has returned.</summary>
    public void Add(string id, string step, int add, string device, DateTimeOffset at) => Take(new(id, step, add, device, at), fresh: true);

    public void AddNote(string step, string note, DateTimeOffset at) =>
        Take(new(null, step, 0, "", at, _notes.TryGetValue(step, out var before) ? $"{before}, {note}" : note), fresh: true);

    /// <summary>Writes what is new through to the disk.</summary>
    public void Keep()
    {
        if (_fresh.Count == 0)
        {
            return;
        }

        Directory.CreateDirectory(Path.GetDirectoryName(_path)!);
        var text = new StringBuilder();
        foreach (var line in _fresh)
        {
            text.Append(CultureInfo.InvariantCulture, $"{JsonSerializer.Serialize(line)}\n");
        }

        using var file = new FileStream(_path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.Read);
        file.Seek(0, SeekOrigin.End);
        if (file.Length > 0)
        {
            file.Seek(-1, SeekOrigin.End);
            if (file.ReadByte() != '\n')
            {
                // The line before was cut off.
                file.WriteByte((byte)'\n');
            }
        }

        file.Write(Encoding.UTF8.GetBytes(text.ToString()));
        file.Flush(flushToDisk: true);
        _fresh.Clear();
    }

    private void Take(Line line, bool fresh = false)
    {
        if (line.Id is { } id)
        {
            if (!_names.Add(id))
            {
                return;
            }

            _counts[line.Step] = Math.Max(0, Count(line.Step) + line.Add);
        }

        if (line.Note is { } note)
        {
            _notes[line.Step] = note;
        }

        if (fresh)
        {
            _fresh.Add(line);
        }
    }
}
