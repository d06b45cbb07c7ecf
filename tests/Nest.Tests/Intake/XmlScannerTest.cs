using System.Text;
using System.Xml;
using Nest.Data.Tables;

namespace Nest.Tests.Intake;

/// <summary>The scanner of workbooks against the framework's reader of XML, on made documents and on documents with a sign changed.</summary>
public class XmlScannerTest
{
    private static readonly string[] Texts = ["12", "", " a b ", "x &amp; y &lt;&#233;&#x20AC;", "<![CDATA[a < b & c]]>", "über", "a<!-- no -->b", "<t>in</t> and <t/>out", "line\r\nend", "5/8\"", "&apos;&quot;&gt;"];
    private const string Signs = "<>/=\"'&;:!?-[]abv 1#x";

    [Fact]
    public void What_the_frameworks_reader_reads_is_read_alike_and_nothing_else_ends_it()
    {
        var random = new Random(5);
        var (alike, refused) = (0, 0);
        for (var n = 0; n < 4000; n++)
        {
            var text = Document(random);
            if (n % 4 > 0)
            {
                var at = random.Next(text.Length);
                text = n % 4 == 1 ? text[..at] : string.Concat(text.AsSpan(0, at), [Signs[random.Next(Signs.Length)]], text.AsSpan(at + (n % 4 == 2 ? 1 : 0)));
            }

            var right = Framework(text);
            var found = Scanned(text, random.Next(1, 40));
            if (right is null)
            {
                refused += found is null ? 1 : 0; // the scanner is laxer: it looks at what it is asked for
                continue;
            }

            found.Should().Equal(right, text);
            alike++;
        }

        alike.Should().BeGreaterThan(1000);
        refused.Should().BeGreaterThan(1000);
    }

    [Theory]
    [InlineData("<a><b></a></b>")]
    [InlineData("<a>")]
    [InlineData("<a/><b/>")]
    [InlineData("text<a/>")]
    [InlineData("<a x=1/>")]
    [InlineData("<a x='1/>")]
    [InlineData("<v>&nbsp;</v>")]
    [InlineData("<v>&#xD800;</v>")]
    [InlineData("<!DOCTYPE a><a/>")]
    [InlineData("<a><!-- ")]
    [InlineData("")]
    public void What_is_not_well_formed_is_refused(string text) => Scanned(text, 7).Should().BeNull();

    [Theory]
    [InlineData("utf-16")]
    [InlineData("utf-8")]
    [InlineData("iso-8859-1")]
    public void A_sheet_in_another_encoding_is_read(string encoding)
    {
        var sheet = $"<?xml version=\"1.0\" encoding=\"{encoding}\"?><worksheet><sheetData><row><c t=\"inlineStr\"><is><t>Länge</t></is></c></row></sheetData></worksheet>";
        var code = Encoding.GetEncoding(encoding);
        using var stream = new MemoryStream();
        using (var zip = new System.IO.Compression.ZipArchive(stream, System.IO.Compression.ZipArchiveMode.Create, leaveOpen: true))
        {
            using var part = zip.CreateEntry("a.xml").Open();
            part.Write([.. code.GetPreamble(), .. code.GetBytes(sheet)]);
        }

        using var archive = new ArchiveParts(stream.ToArray());
        using var xml = archive.Scan("a.xml")!;
        while (xml.Next() && !xml.Name.SequenceEqual("t"u8))
        {
        }

        xml.Text().Should().Be("Länge");
    }

    private static string Document(Random random)
    {
        var text = new StringBuilder(random.Next(2) == 0 ? "<?xml version=\"1.0\"?>\n<a>" : "\uFEFF<a xmlns:p=\"q\">");
        for (var n = random.Next(1, 6); n > 0; n--)
        {
            text.Append(random.Next(3) == 0 ? "<!-- > -->" : " \n").Append("<c r='").Append(random.Next(100)).Append("' t = \"a > &amp; b\"");
            text.Append(random.Next(3) == 0 ? "/>" : $" ><v>{Texts[random.Next(Texts.Length)]}</v></c >");
        }

        return text.Append("</a>\n").ToString();
    }

    private static List<string>? Scanned(string text, int chunk)
    {
        var seen = new List<string>();
        try
        {
            using var xml = new XmlScanner(new Trickle(Encoding.UTF8.GetBytes(text), chunk));
            while (xml.Next())
            {
                if (!xml.IsStart)
                {
                    seen.Add("end");
                    continue;
                }

                var name = Encoding.UTF8.GetString(xml.Name);
                seen.Add($"{name} {xml.Depth + (xml.IsEmpty ? 1 : 0)} {xml.IsEmpty}");
                while (xml.Attribute(out var key, out var value))
                {
                    seen.Add($"{Encoding.UTF8.GetString(key)}={Encoding.UTF8.GetString(value)}");
                }

                if (name == "v")
                {
                    seen.Add(xml.Text());
                }
            }

            return seen;
        }
        catch (Exception fault) when (fault is InvalidDataException or TooLargeException)
        {
            return null;
        }
    }

    private static List<string>? Framework(string text)
    {
        var seen = new List<string>();
        try
        {
            using var xml = XmlReader.Create(new MemoryStream(Encoding.UTF8.GetBytes(text)), new() { DtdProcessing = DtdProcessing.Prohibit, IgnoreComments = true, IgnoreProcessingInstructions = true, CheckCharacters = false });
            while (xml.Read())
            {
                if (xml.NodeType == XmlNodeType.EndElement)
                {
                    seen.Add("end");
                }
                else if (xml.NodeType == XmlNodeType.Element)
                {
                    var (name, empty) = (xml.LocalName, xml.IsEmptyElement);
                    seen.Add($"{name} {xml.Depth + 1} {empty}");
                    while (xml.MoveToNextAttribute())
                    {
                        seen.Add($"{xml.Name}={xml.Value}");
                    }

                    xml.MoveToElement();
                    if (name == "v")
                    {
                        seen.Add(ArchiveParts.TextOf(xml));
                    }
                }
            }

            return seen;
        }
        catch (XmlException)
        {
            return null;
        }
    }

    /// <summary>Gives few bytes at a time, so that every tag and text is once cut in two.</summary>
    private sealed class Trickle(byte[] bytes, int chunk) : MemoryStream(bytes)
    {
        public override int Read(byte[] buffer, int offset, int count) => base.Read(buffer, offset, Math.Min(count, chunk));
    }
}
