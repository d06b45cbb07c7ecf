using System.IO.Compression;
using System.Xml;

namespace Nest.Data.Models;

/// <summary>The archive that a 3MF file is: its XML files by name, read within the limits.</summary>
/// <remarks>Nothing is unpacked to disk, and names in the archive are only looked up in it. Entities are never resolved; unpacked bytes are counted.</remarks>
internal sealed class ThreeMfArchive(ZipArchive archive)
{
    private long unpacked;

    /// <summary>Name of the model that the archive begins with.</summary>
    public string RootName()
    {
        if (Entry("_rels/.rels") is { } relations)
        {
            using var reader = Open(relations);
            while (reader.Read())
            {
                if (reader.NodeType == XmlNodeType.Element && reader.LocalName == "Relationship"
                    && reader.GetAttribute("Type") is { } type && type.EndsWith("/3dmodel", StringComparison.Ordinal)
                    && reader.GetAttribute("Target") is { } target)
                {
                    return Normal(target);
                }
            }
        }

        return "3D/3dmodel.model";
    }

    /// <summary>A name without its leading slash; one that leads out of the archive is refused.</summary>
    public static string Normal(string name) => name.TrimStart('/').Contains("..", StringComparison.Ordinal)
        ? throw ModelFault.Damaged("a name in the archive leads out of it")
        : name.TrimStart('/');

    /// <summary>Reader of a model.</summary>
    public XmlReader Model(string file) => Entry(file) is { } entry
        ? Open(entry)
        : throw ModelFault.Damaged($"the archive has no '{ModelLimits.CleanName(file)}'");

    private ZipArchiveEntry? Entry(string name) =>
        archive.Entries.FirstOrDefault(entry => entry.FullName.TrimStart('/').Equals(name, StringComparison.OrdinalIgnoreCase));

    private XmlReader Open(ZipArchiveEntry entry) => XmlReader.Create(
        new WatchedStream(entry.Open(), bytes =>
        {
            unpacked += bytes.Length;
            if (unpacked > ModelLimits.MeshBytes)
            {
                throw ModelFault.TooMuch($"the archive unpacks to more than {ModelLimits.MeshBytes >> 20} MiB");
            }
        }),
        new XmlReaderSettings { DtdProcessing = DtdProcessing.Prohibit, XmlResolver = null, IgnoreComments = true, IgnoreWhitespace = true, CloseInput = true });
}
