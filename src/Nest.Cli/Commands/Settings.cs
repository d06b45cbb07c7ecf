using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Cli.Commands;

/// <summary>Settings of a job that <c>nest compare</c> may change.</summary>
internal static class Settings
{
    public const string Known =
        "batch=N, kerf=LENGTH (of all saws), kerf.SAW=LENGTH, most_suppliers=N, without_supplier=NAME, without_stock=ID, "
        + "without_thickness=LENGTH (of bought plates), without_form=plate|flat bar|square bar|round bar, without_cut_to_size=yes, without_fuss=yes, spares=PERCENT";

    /// <summary>The job with one setting changed; null with what is wrong.</summary>
    public static Job? Apply(Job job, string setting, out string problem)
    {
        var equals = setting.IndexOf('=', StringComparison.Ordinal);
        var key = equals < 0 ? "" : setting[..equals].Trim().ToLowerInvariant().Replace('-', '_');
        var value = equals < 0 ? "" : setting[(equals + 1)..].Trim();
        problem = $"'{setting}' is no setting that can be compared; known: {Known}";
        if (key.StartsWith("kerf.", StringComparison.Ordinal))
        {
            return Kerf(job, value, saw => string.Equals(saw.Id, key[5..], StringComparison.OrdinalIgnoreCase), ref problem);
        }

        switch (key)
        {
            case "batch":
                return Whole(value, ref problem) is { } batch ? job.ForBatch(batch) : null;
            case "most_suppliers":
                return Whole(value, ref problem) is { } most ? job with { MostSuppliers = most } : null;
            case "kerf":
                return Kerf(job, value, _ => true, ref problem);
            case "without_supplier":
                return Without(job, stock => string.Equals(stock.Supplier, value, StringComparison.OrdinalIgnoreCase), $"nothing is sold by '{value}'", ref problem);
            case "without_stock":
                return Without(job, stock => string.Equals(stock.Id, value, StringComparison.OrdinalIgnoreCase), $"there is no stock '{value}'", ref problem);
            case "without_form":
                return Without(job, stock => Fold(stock.Form.ToString()) == Fold(value) && !stock.IsLeftover, $"nothing to buy has the form '{value}'", ref problem);
            case "without_cut_to_size":
                return Without(job, stock => stock.CutFor is not null, "nothing comes cut to size", ref problem);
            case "without_fuss":
                return job with { Fuss = Fuss.None, Saws = [.. job.Saws.Select(saw => saw with { LoadMinutes = 0m })] };
            case "without_thickness":
                return Size(job, value, ref problem) is { } thickness
                    ? Without(job, stock => stock.Form == Form.Plate && !stock.IsLeftover && stock.Thickness == thickness, $"no plate to buy is {value} thick", ref problem)
                    : null;
            case "spares":
                if (decimal.TryParse(value.TrimEnd('%', ' '), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var percent) && percent is >= 0m and <= 100m)
                {
                    return job with { Parts = [.. job.Parts.Select(part => part with { ExtraPercent = percent, Extra = Part.Spares(part.Quantity, job.Batch, percent) })] };
                }

                problem = $"'{value}' is no percentage from 0 to 100";
                return null;
            default:
                return null;
        }
    }

    private static int? Whole(string value, ref string problem)
    {
        if (int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number is >= 1 and <= 100_000)
        {
            return number;
        }

        problem = $"'{value}' is no whole number from 1 to 100000";
        return null;
    }

    private static Length? Size(Job job, string value, ref string problem)
    {
        var reading = LengthText.Read(value, job.Unit);
        problem = reading.Value is null ? $"'{value}' is no length: {reading.Error}" : problem;
        return reading.Value;
    }

    private static Job? Kerf(Job job, string value, Func<Saw, bool> which, ref string problem)
    {
        if (Size(job, value, ref problem) is not { } kerf)
        {
            return null;
        }

        if (kerf < Length.Zero || !job.Saws.Any(which))
        {
            problem = kerf < Length.Zero ? "a kerf cannot be negative" : $"there is no such saw; there are {string.Join(", ", job.Saws.Select(saw => saw.Id))}";
            return null;
        }

        return job with { Saws = [.. job.Saws.Select(saw => which(saw) ? saw with { Kerf = kerf } : saw)] };
    }

    private static Job? Without(Job job, Func<Stock, bool> which, string none, ref string problem)
    {
        if (!job.Stocks.Any(which))
        {
            problem = none;
            return null;
        }

        return job with { Stocks = [.. job.Stocks.Where(stock => !which(stock))] };
    }

    private static string Fold(string text) => string.Concat(text.Where(char.IsLetterOrDigit)).ToLowerInvariant();
}
