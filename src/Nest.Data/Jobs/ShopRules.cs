using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Stocks;
using Nest.Data.Toml;

namespace Nest.Data.Jobs;

/// <summary>The rules of the shop that a job file may give: allowances, offcuts, mill, lifting. A section that a file leaves out is
/// taken whole from the default shop.</summary>
internal sealed record ShopRules
{
    public ImmutableArray<AllowanceRule> Allowances { get; init; } = [];

    public ImmutableArray<OffcutRule> Offcuts { get; init; } = [];

    public MillRates Mill { get; init; } = new();

    public Fuss Fuss { get; init; } = Fuss.None;

    public Mass LiftLimit { get; init; } = new(25m);

    public Length LongBar { get; init; } = Length.FromMillimetres(3000m);

    public static ShopRules Read(TomlTable root, ShopRules below, MaterialBook book, LengthUnit unit) => new()
    {
        Allowances = root.Table("allowances") is { } allowances ? ReadAllowances(allowances, book) : below.Allowances,
        Offcuts = root.Has("offcuts") ? [.. root.Tables("offcuts").Select(table => ReadOffcuts(table, book)).OfType<OffcutRule>()] : below.Offcuts,
        Mill = root.Table("mill") is { } mill ? ReadMill(mill) : below.Mill,
        Fuss = root.Table("fuss") is { } fuss ? ReadFuss(fuss) : below.Fuss,
        LiftLimit = ReadLift(root, unit) ?? below.LiftLimit,
        LongBar = root.Length("long_bar", aboveZero: true) ?? below.LongBar,
    };

    /// <summary>The default shop.</summary>
    public static ShopRules OfStarter(LengthUnit unit, MaterialBook book, FindingList findings)
    {
        var file = Starter.Shop(unit);
        var root = TomlFile.Read(Starter.Text(file), Starter.NameOf(file), new(findings) { Unit = unit });
        return root is null ? new() : Read(root, new(), book, unit);
    }

    private static ImmutableArray<AllowanceRule> ReadAllowances(TomlTable table, MaterialBook book)
    {
        var rules = ImmutableArray.CreateBuilder<AllowanceRule>();
        var general = Overrides(table);
        foreach (var key in (string[])["side_clean_up", "end_clean_up", "face_top", "face_bottom", "grip"])
        {
            // A left-out allowance must not become zero in silence.
            if (!table.Has(key))
            {
                table.Error(key, "key-missing", $"allowances.{key} is missing", $"add {key} = 0 if there is none, or leave out the section");
            }
        }

        rules.Add(new() { Allowances = general });
        foreach (var rule in table.Tables("rule"))
        {
            var read = new AllowanceRule
            {
                MaterialId = MaterialId(rule, book),
                Family = rule.Text("family"),
                Holding = rule.Word("holding", Words.HoldingOf, "\"vise\", \"fixture plate\", \"soft jaws\" or \"chuck\""),
                Allowances = Overrides(rule),
            };
            rule.NoOtherKeys();
            rules.Add(read);
        }

        table.NoOtherKeys();
        return rules.ToImmutable();
    }

    private static AllowanceOverrides Overrides(TomlTable table) => new()
    {
        SideCleanUp = table.Length("side_clean_up"),
        EndCleanUp = table.Length("end_clean_up"),
        FaceTop = table.Length("face_top"),
        FaceBottom = table.Length("face_bottom"),
        Grip = table.Length("grip"),
    };

    private static OffcutRule? ReadOffcuts(TomlTable table, MaterialBook book)
    {
        if (!table.Has("keep_length"))
        {
            table.Error("keep_length", "key-missing", "the offcut rule has no keep_length", "add keep_length = ..., the shortest worth keeping");
        }

        var rule = new OffcutRule
        {
            Form = table.Word("form", Words.FormOf, "\"plate\", \"flat bar\", \"square bar\" or \"round bar\""),
            MaterialId = MaterialId(table, book),
            KeepLength = table.Length("keep_length", aboveZero: true) ?? Length.FromMillimetres(1m),
            KeepWidth = table.Length("keep_width") ?? Length.Zero,
            Fraction = table.Number("fraction", 0m, 0.99m) ?? 0.6m,
            LeftoverFraction = table.Number("leftover_fraction", 0m, 0.99m) ?? 0.9m,
        };
        table.NoOtherKeys();
        return table.Failed ? null : rule;
    }

    private static string? MaterialId(TomlTable table, MaterialBook book)
    {
        if (table.Text("material") is not { } name)
        {
            return null;
        }

        if (book.Find(name) is { } material)
        {
            return material.Id;
        }

        table.Error("material", "material-unknown", $"the material '{name}' is not known", Near.Hint(name, book.Names) is { Length: > 0 } hint ? hint : "use a name of the materials file");
        return null;
    }

    private static MillRates ReadMill(TomlTable table)
    {
        var rates = new MillRates
        {
            HourlyRate = table.Number("hourly_rate", 0m, 10_000m) ?? 0m,
            DefaultRemovalRate = table.Number("default_removal_rate", 0.001m) ?? 20m,
            BlankMinutes = table.Number("blank_minutes", 0m, 1440m) ?? 0m,
            ViseOpening = table.Length("vise_opening", aboveZero: true),
            TravelX = table.Length("travel_x", aboveZero: true),
            TravelY = table.Length("travel_y", aboveZero: true),
            RemovalRates = [.. SawsReader.Rates(table, "removal_rates").Select(rate => new RemovalRate(rate.Key, rate.Number))],
        };
        table.NoOtherKeys();
        return rates;
    }

    private static Fuss ReadFuss(TomlTable table)
    {
        var fuss = new Fuss
        {
            HourlyRate = table.Number("hourly_rate", 0m, 10_000m) ?? 0m,
            OrderLineMinutes = table.Number("order_line_minutes", 0m, 1440m) ?? 0m,
            SupplierMinutes = table.Number("supplier_minutes", 0m, 1440m) ?? 0m,
            FurtherSizeMinutes = table.Number("further_size_minutes", 0m, 1440m) ?? 0m,
        };
        if (!table.Has("hourly_rate") && (fuss.OrderLineMinutes > 0m || fuss.SupplierMinutes > 0m))
        {
            table.Error("order_line_minutes", "key-missing", "fuss.hourly_rate is missing", "add hourly_rate = ..., what an hour of ordering costs");
        }

        table.NoOtherKeys();
        return fuss;
    }

    /// <summary>A number in kg (metric shop) or lb (inch shop), or text with its unit.</summary>
    private static Mass? ReadLift(TomlTable root, LengthUnit unit)
    {
        const string key = "lift_limit";
        if (!root.Has(key))
        {
            return null;
        }

        if (!root.IsText(key))
        {
            return root.Number(key, 0.1m, 100_000m) is { } number
                ? new Mass(unit == LengthUnit.Millimetre ? number : number * Mass.KilogramsPerPound)
                : null;
        }

        var text = root.Text(key)!.Trim();
        var factor = text.EndsWith("kg", StringComparison.OrdinalIgnoreCase) ? 1m
            : text.EndsWith("lb", StringComparison.OrdinalIgnoreCase) ? Mass.KilogramsPerPound : 0m;
        if (factor != 0m && NumberText.Read(text[..^2]).Value is > 0m and <= 100_000m and var mass)
        {
            return new(mass * factor);
        }

        root.Error(key, "mass-unreadable", $"lift_limit is '{text}'", "write a mass such as \"25 kg\" or \"51 lb\"");
        return null;
    }
}
