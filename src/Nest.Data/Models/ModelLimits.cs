namespace Nest.Data.Models;

/// <summary>What a model file may hold at most; more is refused with a message. Told in stock/README.md.</summary>
internal static class ModelLimits
{
    /// <summary>Bytes of an STL, OBJ or 3MF file, and of a 3MF's model when it is unpacked.</summary>
    public const long MeshBytes = 1L << 30;

    /// <summary>Bytes of a STEP file.</summary>
    public const long StepBytes = 256L << 20;

    /// <summary>Bytes of a DXF file.</summary>
    public const long DxfBytes = 64L << 20;

    public const int Triangles = 5_000_000;

    /// <summary>Bodies, outlines and pieces of an assembly.</summary>
    public const int Parts = 2_000;

    public const int Instances = 20_000;

    /// <summary>Coordinates beyond a kilometre are a fault of the file.</summary>
    public const double Farthest = 1e6;

    /// <summary>Entities of a STEP file; lines, arcs and corners of a DXF.</summary>
    public const int Entities = 2_000_000;

    /// <summary>Assemblies and components within each other.</summary>
    public const int Depth = 32;

    /// <summary>Longest name that is kept; the rest is cut off.</summary>
    public const int Name = 120;

    /// <summary>Name without control and direction characters, cut to its limit.</summary>
    public static string CleanName(string name)
    {
        var clean = new string([.. name.Where(c => !char.IsControl(c) && char.GetUnicodeCategory(c) is not (System.Globalization.UnicodeCategory.Format
            or System.Globalization.UnicodeCategory.Surrogate or System.Globalization.UnicodeCategory.LineSeparator or System.Globalization.UnicodeCategory.ParagraphSeparator)).Take(Name)]).Trim();
        return clean;
    }
}
