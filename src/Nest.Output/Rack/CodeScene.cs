using Nest.Output.Scenes;
using QRCoder;

namespace Nest.Output.Rack;

/// <summary>A text as a QR code in a scene.</summary>
/// <remarks>ISO/IEC 18004, error correction M (15 %), with its quiet zone of four modules.</remarks>
internal static class CodeScene
{
    /// <param name="box">A square; a module should have 0.4 mm at least, or old cameras fail.</param>
    public static void Draw(SceneBuilder scene, Layer layer, string text, Box box)
    {
        using var generator = new QRCodeGenerator();
        using var data = generator.CreateQrCode(text, QRCodeGenerator.ECCLevel.M);
        var modules = data.ModuleMatrix;
        var step = box.Width / modules.Count;
        for (var row = 0; row < modules.Count; row++)
        {
            for (var column = 0; column < modules.Count; column++)
            {
                var from = column;
                while (column < modules.Count && modules[row][column])
                {
                    column++;
                }

                // Runs of dark modules as one box, a hair higher than a module, so that no light line shows between rows.
                if (column > from)
                {
                    scene.Box(layer, new Box(box.X + (from * step), box.Y + (row * step), (column - from) * step, step * 1.01), Tint.Black);
                }
            }
        }
    }
}
