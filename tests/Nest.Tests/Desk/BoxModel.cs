using System.Text;

namespace Nest.Tests.Desk;

/// <summary>A box as a model file.</summary>
internal static class BoxModel
{
    /// <summary>In the text form of STL, sizes in millimetres.</summary>
    public static byte[] Stl(int x, int y, int z)
    {
        int[][] corners = [[0, 0, 0], [x, 0, 0], [x, y, 0], [0, y, 0], [0, 0, z], [x, 0, z], [x, y, z], [0, y, z]];
        int[][] faces = [[0, 2, 1], [0, 3, 2], [4, 5, 6], [4, 6, 7], [0, 1, 5], [0, 5, 4], [1, 2, 6], [1, 6, 5], [2, 3, 7], [2, 7, 6], [3, 0, 4], [3, 4, 7]];
        return Encoding.ASCII.GetBytes("solid box\n" + string.Concat(faces.Select(face => "facet normal 0 0 0\nouter loop\n" + string.Concat(face.Select(at => $"vertex {string.Join(' ', corners[at])}\n")) + "endloop\nendfacet\n")) + "endsolid box\n");
    }
}
