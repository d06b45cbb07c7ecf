using System.IO.Compression;
using System.Text;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Data.Racks;
using Nest.Output.Files;
using Nest.Rack.Exchange;
using Nest.Rack.Pieces;
using Nest.RackStress;

namespace Nest.Tests.Rack;

public sealed class ExchangeTest
{
    private static readonly ShopMaterials Materials = ShopMaterials.Load(null).Value!;

    private static readonly RackPiece[] Pieces =
    [
        RackFixture.Plate(500.123456m, 300) with
        {
            MaterialId = "6061-T6", Mark = Nest.Rack.Marks.MarkScheme.FromNumber(5), Note = "=HYPERLINK(\"http://example.invalid\")", Place = "'A, 1", Heat = "-12+3", Origin = "old \"job\"",
            KeepOuts = [new(SamplePlans.Mm(1.5m), SamplePlans.Mm(2), SamplePlans.Mm(3), SamplePlans.Mm(4))], MinLength = SamplePlans.Mm(500),
            CleanEdges = new(true, false, false, true), Entered = new DateOnly(2026, 3, 2), Rolling = RollingDirection.Unknown, Condition = PieceCondition.Poor, Bought = true,
        },
        new() { Form = Form.RoundBar, MaterialId = "6061-T6", Length = SamplePlans.Mm(900), Width = SamplePlans.Mm(25.4m), Thickness = SamplePlans.Mm(25.4m), Entered = new DateOnly(2025, 12, 31), Certificate = "@cert", Note = "# not a comment" },
    ];

    [Fact]
    public void A_table_as_csv_is_read_back_the_same()
    {
        var text = Encoding.UTF8.GetString(CsvFile.Bytes(Table));
        text.Should().Contain("'=HYPERLINK").And.Contain("'-12+3").And.Contain("''A, 1");
        Same(RackTableReader.Read(text, "rack.csv", Materials, LengthUnit.Inch));
    }

    [Fact]
    public void A_table_as_workbook_is_read_back_the_same()
    {
        var bytes = XlsxFile.Bytes([Table]);
        bytes.Should().Equal(XlsxFile.Bytes([Table]), "same table, same bytes");
        using var zip = new ZipArchive(new MemoryStream(bytes));
        using var sheet = new StreamReader(zip.GetEntry("xl/worksheets/sheet1.xml")!.Open());
        sheet.ReadToEnd().Should().NotContain("<f>", "no cell is a formula");
        Same(Workbook(bytes));
    }

    [Fact]
    public void A_workbook_with_shared_texts_as_spreadsheets_save_it_is_read()
    {
        // After the example of ECMA-376 part 1, 18.4 (shared string table), written by hand (the library takes sheets named sheetN.xml only, as spreadsheets write them); row 2 is empty, cell C3 a rich text.
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            Part("xl/workbook.xml", """<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="x" sheetId="7" r:id="rId9"/></sheets></workbook>""");
            Part("xl/_rels/workbook.xml.rels", """<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId9" Type="t" Target="/xl/worksheets/sheet4.xml"/></Relationships>""");
            Part("xl/sharedStrings.xml", """<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>form</t></si><si><r><t>round</t></r><r><t xml:space="preserve"> bar</t></r></si><si><t>material</t></si><si><t>length</t></si><si><t>bought</t></si><si><t>diameter</t></si><si><t>6061-T6</t></si></sst>""");
            Part("xl/worksheets/sheet4.xml", """<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1"><c r="A1" t="s"><v>3</v></c><c r="B1" t="s"><v>2</v></c><c r="C1" t="s"><v>0</v></c><c r="D1" t="s"><v>4</v></c><c r="E1" t="s"><v>5</v></c></row><row r="3"><c r="A3"><v>0.30000000000000004</v></c><c r="B3" t="s"><v>6</v></c><c r="C3" t="s"><v>1</v></c><c r="D3" t="b"><v>1</v></c><c r="E3"><f>1+1</f><v>2.5E1</v></c></row></sheetData></worksheet>""");

            void Part(string name, string body)
            {
                using var writer = new StreamWriter(zip.CreateEntry(name).Open());
                writer.Write(body);
            }
        }

        var read = Workbook(stream.ToArray());
        read.Findings.Should().BeEmpty();
        var piece = read.Value!.Rows.Should().ContainSingle().Subject.Piece;
        (piece.Form, piece.MaterialId, piece.Bought).Should().Be((Form.RoundBar, "6061-T6", true));
        (piece.Length, piece.Thickness).Should().Be((SamplePlans.Mm(0.3m), SamplePlans.Mm(25)));
    }

    [Theory]
    [InlineData("not a zip", "workbook-unreadable")]
    [InlineData("PK\u0003\u0004 not either", "workbook-unreadable")]
    [InlineData("", "file-empty")]
    public void What_is_no_workbook_is_refused(string content, string rule)
    {
        var read = Workbook(Encoding.UTF8.GetBytes(content));
        read.Value.Should().BeNull();
        read.Findings.Should().ContainSingle(finding => finding.Rule == rule);
    }

    [Fact]
    public void All_errors_of_a_table_are_named_with_row_and_column()
    {
        const string Text = "form,material,length,width,thickness,condition,mark\nplate,6061-T651,500,300,ten,good,\nplank,6061-T651,1,1,1,,\nplate,kryptonite,500,300,10,awful,\n";
        var read = RackTableReader.Read(Text, "rack.csv", Materials, LengthUnit.Millimetre);
        read.Value.Should().BeNull();
        read.Findings.Where(finding => finding.Severity == Severity.Error).Select(finding => finding.Where.ToString())
            .Should().BeEquivalentTo(["rack.csv:2:5", "rack.csv:3:1", "rack.csv:4:2", "rack.csv:4:6"]);
    }

    private static Sheet Table => new("rack", RackTable.Heads, [.. Pieces.Select(RackTable.Row)]);

    private static Nest.Data.ReadResult<RackRows> Workbook(byte[] bytes)
    {
        var path = Path.Combine(Directory.CreateTempSubdirectory("nest-rack-").FullName, "rack.xlsx");
        try
        {
            File.WriteAllBytes(path, bytes);
            return RackTableReader.ReadFile(path, Materials, LengthUnit.Millimetre);
        }
        finally
        {
            Directory.Delete(Path.GetDirectoryName(path)!, recursive: true);
        }
    }

    private static void Same(Nest.Data.ReadResult<RackRows> read)
    {
        read.Findings.Where(finding => finding.Severity == Severity.Error).Should().BeEmpty();
        var rows = read.Value!.Rows;
        rows.Should().HaveCount(2);
        for (var i = 0; i < 2; i++)
        {
            var (row, piece) = (rows[i].Piece, Pieces[i]);
            rows[i].HasValue.Should().BeTrue();
            (row.Mark, row.Form, row.MaterialId).Should().Be((piece.Mark, piece.Form, piece.MaterialId));
            (row.Length, row.Width, row.Thickness, row.MinLength).Should().Be((piece.Length, piece.Width, piece.Thickness, piece.MinLength));
            (row.Note, row.Place, row.Heat, row.Origin, row.Certificate).Should().Be((piece.Note, piece.Place, piece.Heat, piece.Origin, piece.Certificate));
            (row.CleanEdges, row.Entered, row.Bought, row.Value).Should().Be((piece.CleanEdges, piece.Entered, piece.Bought, piece.Value));
            row.KeepOuts.Should().Equal(piece.KeepOuts);
            (row.Rolling, row.Condition).Should().Be((piece.Rolling, piece.Condition));
        }
    }
}
