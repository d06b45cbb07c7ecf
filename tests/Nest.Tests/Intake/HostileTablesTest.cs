using System.Diagnostics;
using System.IO.Compression;
using System.Text;
using Nest.Data;
using Nest.Data.Tables;
using Nest.Fuzz.Tables;
using Nest.Tests.Data;

namespace Nest.Tests.Intake;

/// <summary>Files that were made to hurt: each is read or refused with a message, in little memory.</summary>
public sealed class HostileTablesTest : IDisposable
{
    private static readonly string[][] Rows = [["Part", "Material", "L (mm)", "W (mm)", "T (mm)", "Qty"], ["a", "6061", "120", "62", "8", "4"]];

    private readonly JobFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void A_dimension_that_names_the_whole_sheet_is_not_believed()
    {
        var bytes = new Grid([.. Rows.Concat(Enumerable.Range(0, 200).Select(at => (string[])[$"p{at}", "6061", "120", "62", "8", "1"]))]).Xlsx(before: "<dimension ref=\"A1:XFD1048576\"/>");
        Read("a.xlsx", bytes).Value!.Job.Parts.Should().HaveCount(201);
    }

    [Fact]
    public void A_cell_in_the_last_column_costs_nothing_and_is_told()
    {
        var sheet = "<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetData>"
            + string.Concat(Rows.Select((row, at) => $"<row r=\"{at + 1}\">{string.Concat(row.Select(cell => $"<c t=\"inlineStr\"><is><t>{cell}</t></is></c>"))}</row>"))
            + string.Concat(Enumerable.Range(3, 20_000).Select(row => $"<row r=\"{row}\"><c r=\"XFD{row}\"><v>1</v></c></row>")) + "<row r=\"1048576\"><c r=\"XFD1048576\"><v>1</v></c></row></sheetData></worksheet>";
        var read = Read("a.xlsx", Book(sheet));
        read.Value!.Job.Parts.Should().ContainSingle();
        read.Findings.Should().Contain(finding => finding.Rule == "columns-far");
    }

    [Theory]
    [InlineData("one text of 6 MiB")]
    [InlineData("one mark of 6 MiB")]
    [InlineData("blanks that unpack to 200 MiB")]
    [InlineData("elements nested 100 000 deep")]
    [InlineData("more than 200 000 rows")]
    public void What_is_too_large_is_refused(string what)
    {
        const string start = "<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetData>";
        var bytes = what switch
        {
            "one text of 6 MiB" => Book(start + "<row><c t=\"inlineStr\"><is><t>" + new string('a', 6 << 20) + "</t></is></c></row></sheetData></worksheet>"),
            "one mark of 6 MiB" => Book(start + "<row r=\"" + new string('1', 6 << 20) + "\"/></sheetData></worksheet>"),
            "blanks that unpack to 200 MiB" => Blanks(start, 200),
            "elements nested 100 000 deep" => Book(start + string.Concat(Enumerable.Repeat("<row>", 100_000))),
            _ => Book(start + string.Concat(Enumerable.Repeat("<row><c><v>1</v></c></row>", TableLimits.Rows + 1)) + "</sheetData></worksheet>"),
        };
        var before = GC.GetAllocatedBytesForCurrentThread();
        Only(Read("a.xlsx", bytes), "file-too-large");
        (GC.GetAllocatedBytesForCurrentThread() - before).Should().BeLessThan(400L << 20, "{0}", what);
    }

    [Theory]
    [InlineData("<!DOCTYPE x [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;\">]>")]
    [InlineData("<!DOCTYPE x [<!ENTITY a SYSTEM \"file:///etc/passwd\">]>")]
    public void Document_types_and_outside_entities_are_refused(string type) =>
        Only(Read("a.xlsx", Book(type + "<worksheet><sheetData><row><c t=\"inlineStr\"><is><t>&a;</t></is></c></row></sheetData></worksheet>")), "workbook-unreadable");

    [Theory]
    [InlineData("../../../../etc/passwd")]
    [InlineData("/etc/passwd")]
    [InlineData("..\\..\\secret.xml")]
    public void A_relation_that_leads_out_of_the_archive_leads_nowhere(string target) => Only(
        Read("a.xlsx", Grid.Pack([
            ("xl/workbook.xml", "<workbook xmlns:r=\"x\"><sheets><sheet name=\"a\" sheetId=\"1\" r:id=\"r1\"/></sheets></workbook>"),
            ("xl/_rels/workbook.xml.rels", $"<Relationships><Relationship Id=\"r1\" Target=\"{target}\"/></Relationships>")])),
        "workbook-unreadable");

    [Fact]
    public void A_workbook_that_is_cut_off_anywhere_is_refused()
    {
        var whole = new Grid(Rows).Xlsx();
        for (var length = 4; length < whole.Length; length += 97)
        {
            Only(Read("a.xlsx", whole[..length]), "workbook-unreadable");
        }
    }

    [Fact]
    public void An_old_workbook_a_pdf_and_a_picture_are_told_apart()
    {
        Only(Read("a.xls.csv", [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1, 0, 0]), "workbook-old");
        Only(Read("a.csv", Encoding.ASCII.GetBytes("%PDF-1.7\n")), "file-kind");
        Only(Read("a.csv", [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, 0, 0, 0, 13]), "file-binary");
    }

    [Fact]
    public void Too_many_rows_and_too_long_a_cell_of_a_text_are_refused()
    {
        Only(Read("a.csv", Encoding.ASCII.GetBytes(JobFolder.Head + string.Concat(Enumerable.Repeat("x\n", TableLimits.Rows + 1)))), "file-too-large");
        Only(Read("a.csv", Encoding.ASCII.GetBytes(JobFolder.Head + new string('x', TableLimits.CellText + 1) + ",6061,120,62,8,4\n")), "cell-too-long", "cell-missing");
        Only(Read("a.csv", Encoding.ASCII.GetBytes(JobFolder.Head + "a,6061,120,62,8,4" + new string(',', 100_000) + "x\n")), "row-too-wide", "row-too-long");
    }

    [Fact]
    public void A_pipe_that_nobody_writes_to_is_no_file()
    {
        if (!OperatingSystem.IsLinux())
        {
            return;
        }

        var pipe = Path.Combine(folder.Root, "parts.csv");
        using var made = Process.Start("mkfifo", pipe);
        made.WaitForExit();
        Only(JobReader.Read(pipe), "file-no-file");
    }

    [Fact]
    public void A_stream_without_an_end_is_refused()
    {
        using var endless = new Endless();
        Only(JobReader.Read(endless, "-"), "file-too-large");
    }

    private ReadResult<JobInput> Read(string name, byte[] bytes) => JobReader.Read(folder.Write(name, bytes));

    private static void Only(ReadResult<JobInput> read, params string[] rules)
    {
        read.Value.Should().BeNull();
        read.Findings.Where(finding => finding.Severity == Nest.Core.Jobs.Severity.Error).Select(finding => finding.Rule).Should().BeSubsetOf(rules).And.Contain(rules[0]);
        read.Findings.Should().OnlyContain(finding => finding.Message.Length > 0 && finding.Advice.Length > 0);
    }

    private static byte[] Book(string sheet) => Grid.Pack([
        ("xl/workbook.xml", "<workbook xmlns:r=\"x\"><sheets><sheet name=\"a\" sheetId=\"1\" r:id=\"r1\"/></sheets></workbook>"),
        ("xl/_rels/workbook.xml.rels", "<Relationships><Relationship Id=\"r1\" Target=\"worksheets/sheet1.xml\"/></Relationships>"),
        ("xl/worksheets/sheet1.xml", sheet)]);

    private static byte[] Blanks(string start, int mebibytes)
    {
        using var stream = new MemoryStream(Book("<worksheet/>"));
        using var grown = new MemoryStream();
        stream.CopyTo(grown);
        using (var zip = new ZipArchive(grown, ZipArchiveMode.Update, leaveOpen: true))
        {
            zip.GetEntry("xl/worksheets/sheet1.xml")!.Delete();
        }

        using (var zip = new ZipArchive(grown, ZipArchiveMode.Update, leaveOpen: true))
        {
            using var write = zip.CreateEntry("xl/worksheets/sheet1.xml", CompressionLevel.Fastest).Open();
            write.Write(Encoding.ASCII.GetBytes(start));
            var blanks = Encoding.ASCII.GetBytes(string.Concat(Enumerable.Repeat("<row>" + new string(' ', 1000) + "</row>", 1000)));
            for (var at = 0; at < mebibytes; at++)
            {
                write.Write(blanks);
            }
        }

        return grown.ToArray();
    }

    private sealed class Endless : Stream
    {
        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => throw new NotSupportedException();

        public override long Position { get; set; }

        public override int Read(byte[] buffer, int offset, int count)
        {
            Array.Fill(buffer, (byte)'a', offset, count);
            return count;
        }

        public override void Flush()
        {
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }
}
