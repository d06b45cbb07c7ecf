using System.Globalization;
using Nest.Core.Jobs;
using Nest.Data.Csv;

namespace Nest.Data.Tables;

/// <summary>The one way from a file to a table: text with separators in any usual encoding, workbooks (XLSX, ODS), pasted text.</summary>
internal static class TableSource
{
    /// <summary>What a name must end in to be a table.</summary>
    public static bool IsTable(string path) => Path.GetExtension(path).ToLowerInvariant() is ".csv" or ".tsv" or ".txt" or ".tab" or ".xlsx" or ".xlsm" or ".ods" or ".xls" or ".xlsb";

    /// <summary>Name under which standard input is read.</summary>
    public const string Pasted = "-";

    /// <summary>Reads a file; null after a finding.</summary>
    /// <param name="score">How well a row does as head, for the choice of sheet and separator.</param>
    public static RawTable? ReadFile(string path, string what, TableChoices choices, Func<RawRow, int> score, FindingList findings) =>
        TextFile.ReadBytes(path, what, findings) is { } bytes ? Read(bytes, path, what, choices, score, findings) : null;

    /// <summary>Reads a table from the bytes of a file.</summary>
    public static RawTable? Read(byte[] bytes, string file, string what, TableChoices choices, Func<RawRow, int> score, FindingList findings)
    {
        switch (bytes)
        {
            case [0x50, 0x4B, 0x03, 0x04, ..] or [0x50, 0x4B, 0x05, 0x06, ..]:
                return Workbook(bytes, file, what, choices, score, findings);
            case [0xD0, 0xCF, 0x11, 0xE0, ..]:
                findings.Error("workbook-old", new(file), "this is a workbook of an old kind (.xls), or one with a password, which is not read", "open it in a spreadsheet and save it as XLSX, ODS or CSV without a password");
                return null;
            case [(byte)'<', ..] when Markup(bytes):
                findings.Error("file-kind", new(file), $"this is a web page or XML, not {what}", "open it in a spreadsheet and save it as XLSX, ODS or CSV, or copy the table and paste it into 'nest parts -'");
                return null;
            case [0x25, 0x50, 0x44, 0x46, ..]:
                findings.Error("file-kind", new(file), $"this is a PDF, not {what}", "save the table as XLSX, ODS or CSV, or copy it and paste it into 'nest parts -'");
                return null;
        }

        if (Path.GetExtension(file).ToLowerInvariant() is ".xlsx" or ".xlsm" or ".ods")
        {
            findings.Error("workbook-unreadable", new(file), $"{what} cannot be read as a workbook", "open it in a spreadsheet and save it as XLSX, ODS or CSV");
            return null;
        }

        return Decoded(bytes, file, what, findings) is var (text, kind) ? Split(text, kind, file, score, findings) : null;
    }

    /// <summary>Whether it begins like a page or a document in XML: some programs save such a page under the name of a workbook.</summary>
    private static bool Markup(byte[] bytes)
    {
        var start = System.Text.Encoding.Latin1.GetString(bytes, 0, Math.Min(bytes.Length, 40)).ToLowerInvariant();
        return Array.Exists(Beginnings, start.StartsWith);
    }

    private static readonly string[] Beginnings = ["<!doctype", "<html", "<?xml", "<table", "<head", "<meta", "<style"];

    /// <summary>A table in our own files, or one that is text already.</summary>
    public static RawTable? Read(string text, string file, Func<RawRow, int> score, FindingList findings) => Split(text, "", file, score, findings);

    private static (string Text, string Kind)? Decoded(byte[] bytes, string file, string what, FindingList findings)
    {
        if (TextDecoder.Decode(bytes, out var doubt) is not var (text, encoding))
        {
            var zero = Array.IndexOf(bytes, (byte)0);
            findings.Error("file-binary", TextFile.PositionOf(bytes, zero, file), $"this is not text, so it is not {what}", "export the table as CSV, or check the name of the file");
            return null;
        }

        if (string.IsNullOrWhiteSpace(text))
        {
            findings.Error("file-empty", new(file), $"the file is empty, not {what}", "check the name of the file");
            return null;
        }

        if (doubt is var (row, sample))
        {
            findings.Note(
                "file-encoding", new(file, row), $"the file is not UTF-8; it was read as Windows-1252, so this is '{sample}'", "if that is wrong, save it as CSV UTF-8");
        }

        return (text, encoding);
    }

    /// <summary>The separator of a text, and the text with a line that only names it made a comment.</summary>
    public static (char Separator, string Text) SeparatorOf(string text, Func<RawRow, int> score)
    {
        char? hinted = null;
        if (text.StartsWith("sep=", StringComparison.OrdinalIgnoreCase) && text.Length > 4)
        {
            // Some spreadsheets name the separator in a line of its own; as a comment it keeps the line numbers right.
            hinted = text[4];
            text = "#" + text[1..];
        }

        return (hinted is { } given && Separators.Contains(given) ? given : Separator(text, score), text);
    }

    private static RawTable? Split(string given, string encoding, string file, Func<RawRow, int> score, FindingList findings)
    {
        var (separator, text) = SeparatorOf(given, score);
        var reader = new SeparatedText(text, separator);
        var rows = reader.Rows(TableLimits.Rows + 1);
        foreach (var (row, rule, message, advice) in reader.Faults)
        {
            findings.Error(rule, new(file, row), message, advice);
        }

        if (rows.Count > TableLimits.Rows)
        {
            findings.Error("file-too-large", new(file, TableLimits.Rows), $"the table has more than {TableLimits.Rows} rows", "leave only the rows in it that are wanted, or split it");
            return null;
        }

        var kind = separator switch { ',' => "text with commas", ';' => "text with semicolons", '\t' => "text with tabs", _ => "text with bars" };
        return new(file, encoding.Length == 0 ? kind : $"{kind}, {encoding}", rows);
    }

    private const string Separators = ",;\t|";

    /// <summary>The one with which the best head is found among the first rows; else the one that the first row has most of.</summary>
    private static char Separator(string text, Func<RawRow, int> score)
    {
        var start = text.Length > 60_000 ? text[..60_000] : text;
        var (best, most) = (',', -1);
        foreach (var separator in Separators)
        {
            if (!start.Contains(separator))
            {
                continue;
            }

            var rows = new SeparatedText(start, separator).Rows(HeadFinder.MostAbove);
            var first = rows.Find(row => !row.IsEmpty && !row.IsComment);
            var worth = rows.Count == 0 ? 0 : (rows.Max(row => row.IsComment ? 0 : score(row)) * 1000) + Math.Min(999, first.Cells?.Length ?? 0);
            if (worth > most)
            {
                (best, most) = (separator, worth);
            }
        }

        return best;
    }

    private static RawTable? Workbook(byte[] bytes, string file, string what, TableChoices choices, Func<RawRow, int> score, FindingList findings)
    {
        try
        {
            using var archive = new ArchiveParts(bytes);
            ISheets? sheets = archive.Has("xl/workbook.xml") ? new XlsxSheets(archive)
                : archive.Has("content.xml") && archive.Start("mimetype", 60)?.StartsWith("application/vnd.oasis.opendocument.spreadsheet", StringComparison.Ordinal) != false ? new OdsSheets(archive)
                : null;
            if (sheets is null || sheets.Names.Count == 0)
            {
                findings.Error("workbook-unreadable", new(file), $"{what} cannot be read as a workbook: it has no sheet", "open it in a spreadsheet and save it as XLSX, ODS or CSV");
                return null;
            }

            return Sheet(sheets, sheets is XlsxSheets ? "workbook (XLSX)" : "workbook (ODS)", file, choices, score, findings);
        }
        catch (TooLargeException problem)
        {
            findings.Error("file-too-large", new(file), $"the workbook is too large: {problem.Message}", "leave only the table in it, or save the sheet as CSV");
            return null;
        }
#pragma warning disable CA1031 // A damaged archive or XML makes the libraries throw whatever they like; bad input is a finding.
        catch (Exception problem) when (problem is not OutOfMemoryException)
#pragma warning restore CA1031
        {
            findings.Error("workbook-unreadable", new(file), $"{what} cannot be read as a workbook: it is damaged", "open it in a spreadsheet and save it as XLSX, ODS or CSV");
            return null;
        }
    }

    private static RawTable? Sheet(ISheets sheets, string kind, string file, TableChoices choices, Func<RawRow, int> score, FindingList findings)
    {
        var names = sheets.Names;
        if (choices.Sheet is { } wanted)
        {
            var at = names.ToList().FindIndex(name => string.Equals(name.Trim(), wanted.Trim(), StringComparison.OrdinalIgnoreCase));
            if (at < 0 && int.TryParse(wanted, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= 1 && number <= names.Count)
            {
                at = number - 1;
            }

            if (at < 0)
            {
                findings.Error("sheet-missing", new(file), $"there is no sheet '{wanted}'", $"its sheets are {string.Join(", ", names.Take(20).Select(name => $"'{name}'"))}");
                return null;
            }

            return Finished(sheets, at, kind, file);
        }

        // The sheet whose head is known best; the first one where none is, so that its faults are told.
        RawTable? best = null;
        var most = -1;
        for (var at = 0; at < names.Count && at < 20; at++)
        {
            if (sheets.IsHidden(at) && names.Count > 1)
            {
                continue;
            }

            var table = Finished(sheets, at, kind, file);
            var worth = table.Rows.Take(HeadFinder.MostAbove).Select(score).DefaultIfEmpty(0).Max();
            if (worth > most)
            {
                (best, most) = (table, worth);
            }
        }

        if (best is null || best.Rows.Count == 0)
        {
            findings.Error("file-empty", new(file), "the workbook has no filled sheet", "check the name of the file");
            return null;
        }

        if (names.Count > 1)
        {
            best.Notes.Add(("sheet-chosen", 0, $"the sheet '{best.Sheet}' was read; there {(names.Count == 2 ? "is" : "are")} also {string.Join(", ", names.Where(name => name != best.Sheet).Take(10).Select(name => $"'{name}'"))}", "--sheet names another"));
        }

        return best;
    }

    private static RawTable Finished(ISheets sheets, int at, string kind, string file)
    {
        var rows = sheets.Read(at);
        var merged = rows.Finish();
        var table = new RawTable(file, kind, rows.Rows) { Sheet = sheets.Names[at], Sheets = sheets.Names };
        if (merged is var (top, bottom))
        {
            table.Notes.Add(("cells-merged", top, $"cells are merged over rows {top} to {bottom}: what stands in the first is read in each of them", "split the cells if that is not meant"));
        }

        if (rows.Unsaved > 0)
        {
            table.Notes.Add(("formula-unsaved", 0, $"{Counted.Of(rows.Unsaved, "cell has", "cells have")} a formula but no saved result, so {(rows.Unsaved == 1 ? "it is" : "they are")} read as empty", "open the workbook in a spreadsheet and save it"));
        }

        if (rows.WideRow > 0)
        {
            table.Notes.Add(("columns-far", rows.WideRow, $"cells beyond column {TableLimits.Columns} are not read", "move them nearer if they are wanted"));
        }

        var hidden = rows.Rows.Where(row => row.Hidden).Select(row => row.Line).ToList();
        if (hidden.Count > 0)
        {
            table.Notes.Add(("rows-hidden", hidden[0], $"the sheet hides {Counted.Rows(hidden)}, and {(hidden.Count == 1 ? "it is" : "they are")} read too", "delete them if they are not wanted"));
        }

        return table;
    }
}
