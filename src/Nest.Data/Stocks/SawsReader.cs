using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Toml;

namespace Nest.Data.Stocks;

/// <summary>Reads saws: a [[saw]] table each.</summary>
internal static class SawsReader
{
    public static void Read(TomlTable root, List<Saw> saws)
    {
        foreach (var table in root.Tables("saw"))
        {
            if (ReadSaw(table) is not { } saw)
            {
                continue;
            }

            if (saws.Any(known => string.Equals(known.Id, saw.Id, StringComparison.OrdinalIgnoreCase)))
            {
                table.Error("name", "saw-twice", $"there is another saw '{saw.Id}'", "give each saw a name of its own");
                continue;
            }

            saws.Add(saw);
        }
    }

    private static Saw? ReadSaw(TomlTable table)
    {
        var id = table.Label("name") ?? "";
        var kind = table.Word("kind", Words.SawKindOf, "\"bar saw\", \"plate saw\" or \"cutter\"");
        var kerf = table.Length("kerf", aboveZero: true);
        foreach (var (key, missing) in new[] { ("name", id.Length == 0), ("kind", kind is null), ("kerf", kerf is null) })
        {
            if (missing && !table.Has(key))
            {
                table.Error(key, "key-missing", $"the saw has no {key}", $"add {key} = ... to it");
            }
        }

        if (string.Equals(id, Saw.SupplierId, StringComparison.OrdinalIgnoreCase))
        {
            table.Error("name", "saw-name-taken", $"'{id}' stands for the supplier's own saw", "give the saw another name");
        }

        var trims = Trims(table, kind ?? SawKind.BarSaw);
        var rates = Rates(table, "cut_rates");
        var saw = new Saw
        {
            Id = id,
            Kind = kind ?? SawKind.BarSaw,
            Kerf = kerf ?? Length.Zero,
            Trims = trims,
            Tolerance = table.Length("tolerance") ?? Length.Zero,
            ShortestHeld = table.Length("shortest_held") ?? Length.Zero,
            LargestCut = table.Length("largest_cut", aboveZero: true),
            LargestThickness = table.Length("largest_thickness", aboveZero: true),
            LongestStock = table.Length("longest_stock", aboveZero: true),
            MostPieces = table.Whole("most_pieces", 1, 100_000),
            Stages = table.Whole("stages", 1, 100),
            TrimmingCut = table.Flag("trimming_cut") ?? false,
            FirstCut = table.Word("first_cut", Words.DirectionOf, "\"along\" or \"across\""),
            HourlyRate = table.Number("hourly_rate") ?? 0m,
            ChargePerCut = table.Number("charge_per_cut") ?? 0m,
            HandlingMinutes = table.Number("handling_minutes", 0m, 1440m) ?? 0m,
            SettingMinutes = table.Number("setting_minutes", 0m, 1440m) ?? 0m,
            LoadMinutes = table.Number("load_minutes", 0m, 1440m) ?? 0m,
            CutRates = [.. rates.Select(rate => new CutRate(rate.Key, rate.Number))],
            DefaultCutRate = table.Number("default_cut_rate", 0.001m) ?? 50m,
            StackHeight = table.Length("stack_height") ?? Length.Zero,
        };
        if (saw is { MostPieces: not null, Kind: not SawKind.BarSaw })
        {
            table.Error("most_pieces", "most-pieces-on-plate", "most_pieces counts the pieces of a bar", "leave it out: plates have no such limit");
        }

        CheckTrims(table, saw);
        table.NoOtherKeys();
        return table.Failed ? null : saw;
    }

    public static IReadOnlyList<(string Key, decimal Number)> Rates(TomlTable table, string key) =>
        table.Table(key)?.Numbers(0.001m, 1_000_000m) ?? [];

    private static EdgeTrims Trims(TomlTable table, SawKind kind)
    {
        var all = table.Length("trim") ?? Length.Zero;
        var left = table.Length("trim_left") ?? all;
        var right = table.Length("trim_right") ?? all;
        var bottom = table.Length("trim_bottom");
        var top = table.Length("trim_top");
        if (kind == SawKind.BarSaw && (bottom is not null || top is not null))
        {
            table.Error(bottom is null ? "trim_top" : "trim_bottom", "trim-of-bar-saw", "a bar saw trims only the left and right end", "leave this out");
        }

        return kind == SawKind.BarSaw ? new(left, right, Length.Zero, Length.Zero) : new(left, right, bottom ?? all, top ?? all);
    }

    private static void CheckTrims(TomlTable table, Saw saw)
    {
        if (saw.Kind == SawKind.Cutter)
        {
            return;
        }

        foreach (var (key, trim) in new[]
        {
            ("trim_left", saw.Trims.Left), ("trim_right", saw.Trims.Right), ("trim_bottom", saw.Trims.Bottom), ("trim_top", saw.Trims.Top),
        })
        {
            if (trim > Length.Zero && trim < saw.Kerf)
            {
                table.Error(
                    table.Has(key) ? key : "trim", "trim-below-kerf", $"{key} is less than the kerf, but a trim includes its cut",
                    "write zero for no trim, or at least the kerf");
                return;
            }
        }
    }
}
