using System.IO.Compression;
using System.Text;

namespace Nest.Fuzz;

/// <summary>Changes a file at random: bytes and numbers replaced, pieces left out, doubled, exchanged, cut off; archives also inside.</summary>
internal static class FileChange
{
    private static readonly string[] Odd =
    [
        "nan", "-inf", "1e308", "-1e-308", "0", "-0", "99999999999999999999", "-1", "1e7", "2147483648", "", "#1", "$", "*", "()", "''", "/*", "*/", "\\X2\\D800\\X0\\", "0x10", "1,5", "\0", "\n", ";",
        "&a;", "<!DOCTYPE a [<!ENTITY a \"b\">]>", "../../x", "facet", "endsolid", "LINE", "CIRCLE", "SPLINE", "INSERT", "ELLIPSE", "PLANE", "(((((((((((((((((((((((((((((((((((((",
    ];

    /// <summary>The file with one to some changes; of three archives in four a part within.</summary>
    public static byte[] Of(byte[] bytes, Random random)
    {
        if (bytes.AsSpan().StartsWith("PK"u8) && random.Next(4) > 0)
        {
            try
            {
                return Inside(bytes, random);
            }
            catch (Exception problem) when (problem is InvalidDataException or NotSupportedException or IOException)
            {
                // An archive that earlier changes have spoiled.
            }
        }

        return Change(bytes, random);
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
                target.Write(entry.FullName.Contains(".model", StringComparison.Ordinal) || entry.FullName.Contains("sheet", StringComparison.Ordinal) || entry.FullName == "content.xml" || random.Next(10) == 0 ? Change(content.ToArray(), random) : content.ToArray());
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
