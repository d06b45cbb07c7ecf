namespace Nest.Solve.Plates.Free;

/// <summary>Orders of kinds for the fillers: large first in one of several senses, with noise.</summary>
internal static class FreeOrder
{
    public const int Senses = 7;

    /// <summary>Size of a kind in one sense.</summary>
    public static double Size(FreeModel model, int kind, int sense)
    {
        double x = model.SizeX[kind], y = model.SizeY[kind];
        return sense switch
        {
            0 => x * y,
            1 => Math.Max(x, y),
            2 => x + y,
            3 => y,
            4 => x,
            5 => Math.Min(x, y),
            _ => x * y * Math.Sqrt(Math.Max(x, y) / Math.Min(x, y)),
        };
    }

    /// <summary>Sorts kinds by size in a sense, times 1 ± noise, largest first; ties by a second sense.</summary>
    public static void Sort(FreeModel model, Span<int> kinds, int sense, double noise, FreeRandom random)
    {
        Span<double> keys = kinds.Length <= 512 ? stackalloc double[kinds.Length] : new double[kinds.Length];
        for (var i = 0; i < kinds.Length; i++)
        {
            var size = Size(model, kinds[i], sense) * (1 + (1e-4 * Size(model, kinds[i], sense == 0 ? 1 : 0) / (1 + Size(model, kinds[i], 0))));
            keys[i] = -size * (noise == 0 ? 1 : 1 + (noise * ((2 * random.Unit()) - 1)));
        }

        keys.Sort(kinds);
    }
}
