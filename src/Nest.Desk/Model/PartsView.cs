using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Data.Parts;
using Nest.Planning;

namespace Nest.Desk.Model;

/// <summary>A row of a parts list as the page shows it.</summary>
/// <param name="Key">Stays with the row when rows before it come or go, as its line does not.</param>
/// <param name="Faults">By number of the cell, 0 for the whole row.</param>
/// <param name="Fact">What becomes of the part; null while the row is faulty, or where another row of the same part tells it.</param>
public sealed record EditRow(int Key, int Line, string Name, ImmutableArray<string> Cells, ImmutableDictionary<int, string> Faults, PartFact? Fact);

/// <summary>A parts list as the page shows it.</summary>
/// <param name="Findings">What is not about one of its cells.</param>
public sealed record PartsView(
    string File, string Caption, ImmutableArray<(int Place, string Head, string Meaning)> Columns, ImmutableArray<EditRow> Rows, ImmutableArray<Finding> Findings, string Status, Job? Job)
{
    public bool CanUndo { get; init; }

    public bool CanRedo { get; init; }

    /// <summary>Where another program changed the file: the lines that differ.</summary>
    public IReadOnlyList<ChangedLine> Other { get; init; } = [];

    public static PartsView Of(PartsText text, PartsReading reading, string status)
    {
        var lines = text.Rows.Select(row => row.Line).ToHashSet();
        var here = reading.Findings.Where(finding => finding.Severity == Severity.Error && finding.Where.File == text.File && lines.Contains(finding.Where.Row))
            .ToLookup(finding => finding.Where.Row);
        var columns = text.Columns.Where(column => column.Meaning is not null).Select(column => (column.Place, column.Head, column.Meaning!)).ToImmutableArray();
        var facts = reading.Input is { } input ? Facts(text, input) : [];
        var name = text.Place("part");
        return new(
            Path.GetFileName(text.File), reading.Input is { Job: var job } ? PartRow.Caption(job) : "", columns,
            [.. text.Rows.Select(row => new EditRow(row.Key, row.Line, row.At(name), [.. columns.Select(column => row.At(column.Place))], FaultsOf(here[row.Line], columns), facts.GetValueOrDefault(row.Line)))],
            [.. reading.Findings.Where(finding => finding.Severity == Severity.Error && !here.Contains(finding.Where.Row)
                || (finding.Severity == Severity.Error && finding.Where.File != text.File))],
            status, reading.Input?.Job);
    }

    /// <summary>A fault of a cell that has no column here is one of the whole row.</summary>
    private static ImmutableDictionary<int, string> FaultsOf(IEnumerable<Finding> findings, ImmutableArray<(int Place, string Head, string Meaning)> columns) => findings
        .GroupBy(finding => columns.Any(column => column.Place == finding.Where.Column) ? finding.Where.Column : 0)
        .ToImmutableDictionary(group => group.Key, group => string.Join("; ", group.Select(finding => PageWords.Of(finding.Message, finding.Advice, " — "))));

    private static Dictionary<int, PartFact> Facts(PartsText text, JobInput input)
    {
        var lines = input.PartRows.Where(pair => pair.Value.File == text.File).ToDictionary(pair => pair.Key, pair => pair.Value.Row, StringComparer.OrdinalIgnoreCase);
        var format = LengthFormat.For(input.Job.Unit, input.Job.InchFraction);
        var stocks = input.Job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        var facts = new Dictionary<int, PartFact>();
        foreach (var blank in Planner.Blanks(input.Job))
        {
            if (lines.TryGetValue(blank.Part.Id, out var line))
            {
                facts.TryAdd(line, PartFact.Of(input.Job, blank, stocks, format));
            }
        }

        return facts;
    }
}
