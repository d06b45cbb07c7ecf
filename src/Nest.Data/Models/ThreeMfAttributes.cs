using System.Globalization;
using System.Xml;
using Nest.Core.Solids;

namespace Nest.Data.Models;

/// <summary>The attributes of an element of a 3MF model: names, numbers, transforms. One that is missing or wrong is refused.</summary>
internal static class ThreeMfAttributes
{
    /// <summary>An attribute that must be there.</summary>
    public static string Id(this XmlReader reader, string attribute) =>
        ModelLimits.CleanName(reader.GetAttribute(attribute) ?? throw ModelFault.Damaged($"an element '{reader.LocalName}' has no '{attribute}'"));

    /// <summary>The file that an element names by <c>path</c>, whatever the prefix; else the one that it stands in.</summary>
    public static string FileOf(this XmlReader reader, string file)
    {
        string? path = null;
        while (reader.MoveToNextAttribute())
        {
            path = reader.LocalName == "path" ? reader.Value : path;
        }

        reader.MoveToElement();
        return path is null ? file : ThreeMfArchive.Normal(path);
    }

    /// <summary>A number.</summary>
    public static double Number(this XmlReader reader, string attribute) =>
        double.TryParse(reader.GetAttribute(attribute), NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
        && double.IsFinite(value) && Math.Abs(value) <= 1e12
            ? value
            : throw ModelFault.Damaged($"'{attribute}' of a {reader.LocalName} is no number, or beyond all sizes", (reader as IXmlLineInfo)?.LineNumber ?? 0);

    /// <summary>A whole number of zero or more.</summary>
    public static int Whole(this XmlReader reader, string attribute) =>
        int.TryParse(reader.GetAttribute(attribute), NumberStyles.None, CultureInfo.InvariantCulture, out var value)
            ? value
            : throw ModelFault.Damaged($"'{attribute}' of a {reader.LocalName} is no number", (reader as IXmlLineInfo)?.LineNumber ?? 0);

    /// <summary>Twelve numbers, row by row: images of x, y, z, then of the origin.</summary>
    public static Placing Transform(this XmlReader reader)
    {
        if (reader.GetAttribute("transform") is not { } text)
        {
            return Placing.None;
        }

        var words = text.Split((char[])[' ', '\t', '\r', '\n'], StringSplitOptions.RemoveEmptyEntries);
        var m = new double[12];
        for (var i = 0; i < 12; i++)
        {
            if (words.Length != 12 || !double.TryParse(words[i], NumberStyles.Float, CultureInfo.InvariantCulture, out m[i])
                || !double.IsFinite(m[i]) || Math.Abs(m[i]) > 1e9)
            {
                throw ModelFault.Damaged("a transform is not twelve numbers", (reader as IXmlLineInfo)?.LineNumber ?? 0);
            }
        }

        return new(new(m[0], m[1], m[2]), new(m[3], m[4], m[5]), new(m[6], m[7], m[8]), new(m[9], m[10], m[11]));
    }
}
