using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Xml;

namespace Nest.Rack.Exchange;

/// <summary>Writes one table as a workbook of ECMA-376 (Office Open XML): texts are text cells, which no spreadsheet evaluates; numbers
/// are numbers; the head is bold and stays in view.</summary>
public static class XlsxWriter
{
    private const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    private const string Relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    private const string Package = "http://schemas.openxmlformats.org/package/2006/relationships";

    public static byte[] Bytes(string name, IReadOnlyList<string> heads, IEnumerable<object?[]> rows)
    {
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            Part(zip, "[Content_Types].xml", """
                <Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/><Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/></Types>
                """);
            Part(zip, "_rels/.rels", $"""
                <Relationships xmlns="{Package}"><Relationship Id="rId1" Type="{Relations}/officeDocument" Target="xl/workbook.xml"/></Relationships>
                """);
            Part(zip, "xl/_rels/workbook.xml.rels", $"""
                <Relationships xmlns="{Package}"><Relationship Id="rId1" Type="{Relations}/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="{Relations}/styles" Target="styles.xml"/></Relationships>
                """);
            Part(zip, "xl/workbook.xml", $"""
                <workbook xmlns="{Main}" xmlns:r="{Relations}"><sheets><sheet name="{name}" sheetId="1" r:id="rId1"/></sheets></workbook>
                """);
            Part(zip, "xl/styles.xml", $"""
                <styleSheet xmlns="{Main}"><fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts><fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills><borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders><cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs><cellXfs count="3"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/><xf numFmtId="0" fontId="1" fillId="0" borderId="0" xfId="0" applyFont="1"/><xf numFmtId="49" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/></cellXfs></styleSheet>
                """);
            Sheet(zip, heads, rows);
        }

        return stream.ToArray();
    }

    private static void Sheet(ZipArchive zip, IReadOnlyList<string> heads, IEnumerable<object?[]> rows)
    {
        using var entry = Entry(zip, "xl/worksheets/sheet1.xml").Open();
        using var xml = XmlWriter.Create(entry, new() { Encoding = new UTF8Encoding(false), CheckCharacters = true });
        xml.WriteStartElement("worksheet", Main);
        xml.WriteStartElement("sheetViews", Main);
        xml.WriteStartElement("sheetView", Main);
        xml.WriteAttributeString("workbookViewId", "0");
        xml.WriteStartElement("pane", Main);
        xml.WriteAttributeString("ySplit", "1");
        xml.WriteAttributeString("topLeftCell", "A2");
        xml.WriteAttributeString("activePane", "bottomLeft");
        xml.WriteAttributeString("state", "frozen");
        xml.WriteEndElement();
        xml.WriteEndElement();
        xml.WriteEndElement();
        xml.WriteStartElement("sheetData", Main);
        Row(1, heads, "1");
        var number = 2;
        foreach (var row in rows)
        {
            Row(number++, row, "2");
        }

        xml.WriteEndElement();
        xml.WriteEndElement();

        void Row(int at, IReadOnlyList<object?> cells, string textStyle)
        {
            xml.WriteStartElement("row", Main);
            xml.WriteAttributeString("r", at.ToString(CultureInfo.InvariantCulture));
            for (var i = 0; i < cells.Count; i++)
            {
                if (cells[i] is null or "")
                {
                    continue;
                }

                xml.WriteStartElement("c", Main);
                xml.WriteAttributeString("r", XlsxReader.ColumnName(i) + at.ToString(CultureInfo.InvariantCulture));
                if (cells[i] is string text)
                {
                    xml.WriteAttributeString("s", textStyle);
                    xml.WriteAttributeString("t", "inlineStr");
                    xml.WriteStartElement("is", Main);
                    xml.WriteStartElement("t", Main);
                    xml.WriteAttributeString("xml", "space", null, "preserve");
                    xml.WriteString(string.Concat(text.Where(XmlConvert.IsXmlChar)));
                    xml.WriteEndElement();
                    xml.WriteEndElement();
                }
                else
                {
                    xml.WriteElementString("v", Main, Convert.ToString(cells[i], CultureInfo.InvariantCulture));
                }

                xml.WriteEndElement();
            }

            xml.WriteEndElement();
        }
    }

    private static void Part(ZipArchive zip, string name, string body)
    {
        using var writer = new StreamWriter(Entry(zip, name).Open(), new UTF8Encoding(false));
        writer.Write("<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n");
        writer.Write(body);
    }

    private static ZipArchiveEntry Entry(ZipArchive zip, string name)
    {
        var entry = zip.CreateEntry(name, CompressionLevel.Optimal);

        // Same table, same bytes: no time of writing (1980 is the oldest a zip can name).
        entry.LastWriteTime = new DateTimeOffset(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);
        return entry;
    }
}
