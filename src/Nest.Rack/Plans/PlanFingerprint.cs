using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Nest.Core.Plans;

namespace Nest.Rack.Plans;

/// <summary>Recognises the same plan reserved twice by mistake: the same job's name, stocks, counts and placements.</summary>
internal static class PlanFingerprint
{
    public static string Of(Plan plan)
    {
        var text = new StringBuilder();
        text.Append(plan.Job.Name).Append('\n');
        foreach (var layout in plan.Layouts)
        {
            text.Append(CultureInfo.InvariantCulture, $"{layout.Number} {layout.StockId} {layout.Count}\n");
            foreach (var piece in layout.Pieces)
            {
                var at = piece.Area;
                text.Append(
                    CultureInfo.InvariantCulture,
                    $"{piece.PartId} {at.X.Nanometres} {at.Y.Nanometres} {at.SizeX.Nanometres} {at.SizeY.Nanometres}\n");
            }
        }

        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }
}
