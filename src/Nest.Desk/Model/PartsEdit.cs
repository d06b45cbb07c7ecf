using Nest.Core.Jobs;
using Nest.Data.Parts;
using Nest.Output.Files;
using Nest.Planning;

namespace Nest.Desk.Model;

/// <summary>One parts list while it is changed: each change is checked with the whole job and written to the list's file at once, unless a cell is faulty or
/// another program has changed the file meanwhile. That one is never written over: both are shown.</summary>
/// <remarks>May be used by several pages at once: changes come one after the other.</remarks>
public sealed class PartsEdit
{
    /// <summary>Changes that can be taken back.</summary>
    private const int MostUndo = 200;

    private readonly Lock _gate = new();
    private readonly JobFolder _job;
    private readonly Func<Dictionary<string, byte[]>> _drafts;
    private readonly TimeProvider _time;
    private readonly Stack<PartsText> _undo = new();
    private readonly Stack<PartsText> _redo = new();
    private byte[] _known;
    private byte[]? _other;
    private PartsText _text;
    private PartsView? _view;
    private string _told = "";

    public PartsEdit(JobFolder job, string path, byte[] bytes, PartsText text, Func<Dictionary<string, byte[]>> drafts, TimeProvider time) =>
        (_job, Path, _known, _text, _drafts, _time) = (job, path, bytes, text, drafts, time);

    /// <summary>Full path of the list.</summary>
    public string Path { get; }

    /// <summary>Whether there is a change that is not written.</summary>
    public bool IsOpen { get; private set; }

    /// <summary>The list as it is here.</summary>
    public byte[] Draft => _text.Bytes();

    public PartsView View
    {
        get
        {
            lock (_gate)
            {
                return _view ??= Look();
            }
        }
    }

    /// <summary>Takes a cell's new text.</summary>
    public void Set(int line, int place, string cell) => Set(row => row.Line == line, place, cell);

    /// <summary>The same for a row as a page showed it: it may have another line by now, or be gone.</summary>
    public void Set(EditRow shown, int place, string cell) => Set(row => row.Key == shown.Key, place, cell);

    /// <summary>Adds a row like the last one, its sizes left open. Takes the name that the new part has until it gets its own.</summary>
    public void Add() => Change(text =>
    {
        var last = text.Rows.IsEmpty ? null : text.Rows[^1];
        var names = text.Rows.Select(row => row.At(text.Place("part"))).ToHashSet(StringComparer.OrdinalIgnoreCase);
        var name = Enumerable.Range(1, 1_000_000).Select(number => FormattableString.Invariant($"new part {number}")).First(one => !names.Contains(one));
        return text.Added([.. Enumerable.Range(1, text.Columns.Max(column => column.Place)).Select(place =>
            place == text.Place("part") ? name : place == text.Place("quantity") ? "1" : place == text.Place("material") ? last?.At(place) ?? "" : "")]);
    });

    public void Remove(int line) => Remove(row => row.Line == line);

    /// <summary>The same for a row as a page showed it: it may have another line by now, or be gone.</summary>
    public void Remove(EditRow shown) => Remove(row => row.Key == shown.Key);

    /// <summary>Adds rows of another list, as this one has its columns. Columns that it lacks are told and left out.</summary>
    public void Append(IReadOnlyList<Dictionary<string, string>> rows)
    {
        Change(text => rows.Aggregate(text, (one, row) => one.Added([.. Enumerable.Range(1, one.Columns.Max(column => column.Place)).Select(place =>
            one.Columns.FirstOrDefault(column => column.Place == place).Meaning is { } meaning ? row.GetValueOrDefault(meaning, "") : "")])));
        var lacking = rows.SelectMany(row => row.Where(cell => cell.Value.Length > 0).Select(cell => cell.Key)).Distinct().Where(meaning => _text.Place(meaning) == 0).ToList();
        lock (_gate)
        {
            _told = lacking.Count == 0 ? _told : $"{_told} The list has no column for: {string.Join(", ", lacking)}.";
            _view = null;
        }
    }

    public void Undo() => Step(_undo, _redo);

    public void Redo() => Step(_redo, _undo);

    /// <summary>Looks whether another program changed the file.</summary>
    public void LookAtFile()
    {
        lock (_gate)
        {
            if (Changed() is not { } now)
            {
                return;
            }

            if (!IsOpen && PartsText.Read(now, _text.File, _text.Choices) is { } read)
            {
                _undo.Push(_text);
                (_text, _known, _view, _told) = (read, now, null, "The file was changed by another program and was read anew.");
            }
            else
            {
                (_other, _view) = (now, null);
            }
        }
    }

    /// <summary>Takes the file as the other program left it; what was typed here can be got back by an undo.</summary>
    public void TakeOther()
    {
        lock (_gate)
        {
            if (_other is { } other && PartsText.Read(other, _text.File, _text.Choices) is { } read)
            {
                _undo.Push(_text);
                (_text, _known, _other, IsOpen, _view, _told) = (read, other, null, false, null, "The file as the other program left it.");
            }
        }
    }

    /// <summary>Writes what is here; the other version is kept beside it.</summary>
    public void KeepMine()
    {
        lock (_gate)
        {
            if (_other is not { } other)
            {
                return;
            }

            var aside = System.IO.Path.Combine(System.IO.Path.GetDirectoryName(Path)!, FormattableString.Invariant($"{System.IO.Path.GetFileNameWithoutExtension(Path)}-other-{_time.GetLocalNow():yyyyMMdd-HHmmss}{System.IO.Path.GetExtension(Path)}"));
            WholeFile.Write(aside, other);
            (_known, _other, IsOpen, _view) = (other, null, true, null);
            Look();
            _told = $"{_told} The other version is kept as {System.IO.Path.GetFileName(aside)}.";
            _view = null;
        }
    }

    private void Set(Func<PartsTextRow, bool> which, int place, string cell) =>
        Change(text => text.Rows.FirstOrDefault(which) is { } row && row.At(place) != cell.Trim() ? text.With(row.Line, place, cell) : text);

    private void Remove(Func<PartsTextRow, bool> which) => Change(text => text.Rows.FirstOrDefault(which) is { } row ? text.Without(row.Line) : text);

    private void Change(Func<PartsText, PartsText> change)
    {
        lock (_gate)
        {
            var next = change(_text);
            if (ReferenceEquals(next, _text))
            {
                return;
            }

            if (_undo.Count >= MostUndo)
            {
                var kept = _undo.Take(MostUndo / 2).Reverse().ToList();
                _undo.Clear();
                kept.ForEach(_undo.Push);
            }

            _undo.Push(_text);
            _redo.Clear();
            (_text, IsOpen) = (next, true);
            _view = Look();
        }
    }

    private void Step(Stack<PartsText> from, Stack<PartsText> to)
    {
        lock (_gate)
        {
            if (from.TryPop(out var text))
            {
                to.Push(_text);
                (_text, IsOpen) = (text, true);
                _view = Look();
            }
        }
    }

    /// <summary>Reads the job with this list as it is here, and writes the list where nothing is against it.</summary>
    private PartsView Look()
    {
        var drafts = _drafts();
        drafts[Path] = Draft;
        var reading = Planner.Inspect(_job.File, drafts);
        var errors = reading.Findings.Where(finding => finding.Severity == Severity.Error).ToList();
        if (IsOpen)
        {
            _other = Changed();
            if (_other is null && errors.Count == 0)
            {
                Write();
            }
        }

        // The other rows go on showing their blanks while a row is faulty.
        var faulty = errors.Where(IsInRow).Select(finding => finding.Where.Row).ToHashSet();
        if (reading.Input is null && errors.TrueForAll(IsInRow) && faulty.Count < _text.Rows.Length)
        {
            drafts[Path] = _text.Blanked(faulty).Bytes();
            reading = Planner.Inspect(_job.File, drafts) with { Findings = reading.Findings };
        }

        var status = _other is not null ? "Not written: another program has changed the file meanwhile. Both versions are below."
            : errors.Count > 0 ? $"Not written yet: {(errors.Count == 1 ? "one fault is" : $"{errors.Count} faults are")} to be mended first."
            : _told;
        return PartsView.Of(_text, reading, status) with { CanUndo = _undo.Count > 0, CanRedo = _redo.Count > 0, Other = _other is { } other ? TextChanges.Between(other, Draft) : [] };

        bool IsInRow(Finding finding) => finding.Where is { Row: > 0 } where && where.File == _text.File && _text.Rows.Any(row => row.Line == where.Row);
    }

    private void Write()
    {
        var bytes = Draft;
        try
        {
            WholeFile.Write(Path, bytes);
            (_known, IsOpen, _told) = (bytes, false, $"Written to {System.IO.Path.GetFileName(Path)}.");
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            _told = $"Not written: {problem.Message}";
        }
    }

    /// <summary>The file's bytes, where they are not those that were read or written last; null: they are.</summary>
    private byte[]? Changed()
    {
        try
        {
            var now = File.ReadAllBytes(Path);
            return now.AsSpan().SequenceEqual(_known) ? null : now;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            // It is gone, or held by another program: nothing is written there.
            return [];
        }
    }
}
