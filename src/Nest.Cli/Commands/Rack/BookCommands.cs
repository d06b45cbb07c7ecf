using System.CommandLine;
using System.Globalization;
using Nest.Core.Quantities;
using Nest.Rack.Audit;
using Nest.Rack.Tracing;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest rack trace</c>, <c>balance</c>, <c>check</c>, <c>rules</c>.</summary>
internal static class BookCommands
{
    public static Command Trace(RackAccess access)
    {
        var batch = new Option<string?>("--batch") { Description = "Batch of blanks, or a plan's number: back to the heats.", HelpName = "BATCH" };
        var part = new Option<string?>("--part") { Description = "With --batch: only this part.", HelpName = "PART" };
        var heat = new Option<string?>("--heat") { Description = "Heat number: forward to all its pieces and blanks.", HelpName = "NUMBER" };
        var command = new Command("trace", "From blanks back to heats, or from a heat forward to blanks.") { batch, part, heat };
        command.Validators.Add(result =>
        {
            if (result.GetValue(part) is not null && result.GetValue(batch) is null)
            {
                result.AddError("--part goes with --batch.");
            }

            if ((result.GetValue(batch) is null) == (result.GetValue(heat) is null))
            {
                result.AddError("trace wants either --batch or --heat.");
            }
        });
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            if (parsed.GetValue(heat) is { } number)
            {
                var trace = store.TraceHeat(number);
                RackText.Table(
                    access.World.Out,
                    ["mark", "material", "size", "state", "cut from", "certificate"],
                    [.. trace.Pieces.Select(piece => new[]
                    {
                        piece.Mark, piece.MaterialId, RackText.Size(piece, access.Format(parsed)), RackText.State(piece), piece.ParentMark ?? "-", piece.Certificate,
                    })]);
                access.Say("");
                Print(access, trace.Blanks);
                return ExitCode.Done;
            }

            Print(access, store.TraceBatch(parsed.GetValue(batch)!, parsed.GetValue(part)));
            return ExitCode.Done;
        }));
        return command;
    }

    public static Command Balance(RackAccess access)
    {
        var command = new Command("balance", "Metal in, out and on the rack, to the gram.");
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var books = store.Balance();
            foreach (var (name, mass) in new[]
            {
                ("bought", books.Bought), ("found on the rack", books.Found), ("corrected", books.Corrected), ("good blanks", -books.Parts),
                ("chips of the saw", -books.Kerf), ("waste of cuts", -books.Waste), ("scrapped whole", -books.Scrapped), ("lost", -books.Lost),
                ("on the rack", -books.OnRack), ("difference", books.Difference),
            })
            {
                var (value, unit) = access.UnitOf(parsed) == LengthUnit.Inch ? (MetalBalance.Kilograms(mass).ToPounds(), "lb") : (MetalBalance.Kilograms(mass).Kilograms, "kg");
                access.Say(string.Create(CultureInfo.InvariantCulture, $"{name,-20} {value,14:0.000} {unit}"));
            }

            return books.Difference == 0 ? ExitCode.Done : ExitCode.CheckerRefused;
        }));
        return command;
    }

    public static Command Check(RackAccess access)
    {
        var command = new Command("check", "Check the file, its references, every piece's and plan's life, and the metal.");
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var findings = store.Check();
            foreach (var finding in findings)
            {
                access.World.Error.WriteLine($"error: {finding}");
            }

            access.Say(findings.IsEmpty ? "the rack agrees with itself" : $"{RackText.Count(findings.Length, "finding")}");
            return findings.IsEmpty ? ExitCode.Done : ExitCode.CheckerRefused;
        }));
        return command;
    }

    public static Command Rules(RackAccess access)
    {
        var options = new Option<decimal?>[]
        {
            Factor("--good", "Worth of a good piece, as a share of the value it carries."), Factor("--fair", "Of a scratched or stained one."),
            Factor("--poor", "Of a bent or corroded one."), Factor("--free-days", "Days during which age costs nothing."),
            Factor("--loss-per-year", "Share of the worth lost in a year after that."), Factor("--age-floor", "Smallest factor of age."),
            Factor("--chance", "Chance that a piece is used at all if not now."), Factor("--holding", "Cost of keeping a kilogram for a year."),
            Factor("--years", "Years a piece would wait if not used now."),
        };
        var command = new Command("rules", "Show or set what pieces count for when a plan thinks of using them.");
        foreach (var option in options)
        {
            command.Add(option);
        }

        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var rules = store.Rules;
            var given = options.Select(parsed.GetValue).ToArray();
            if (given[3] is { } days && (days != decimal.Truncate(days) || days is < 0 or > 100_000))
            {
                return access.Refuse($"--free-days is {days.ToString(CultureInfo.InvariantCulture)}", "write a whole number of days");
            }

            if (given.Any(value => value is not null))
            {
                store.SetRules(rules with
                {
                    Good = given[0] ?? rules.Good,
                    Fair = given[1] ?? rules.Fair,
                    Poor = given[2] ?? rules.Poor,
                    FreeDays = (int)(given[3] ?? rules.FreeDays),
                    LossPerYear = given[4] ?? rules.LossPerYear,
                    AgeFloor = given[5] ?? rules.AgeFloor,
                    ChanceOfUse = given[6] ?? rules.ChanceOfUse,
                    HoldingPerKilogramYear = given[7] ?? rules.HoldingPerKilogramYear,
                    YearsUntilUse = given[8] ?? rules.YearsUntilUse,
                });
                rules = store.Rules;
            }

            decimal[] values =
            [
                rules.Good, rules.Fair, rules.Poor, rules.FreeDays, rules.LossPerYear, rules.AgeFloor, rules.ChanceOfUse, rules.HoldingPerKilogramYear, rules.YearsUntilUse,
            ];
            for (var i = 0; i < options.Length; i++)
            {
                access.Say(string.Create(CultureInfo.InvariantCulture, $"{options[i].Name[2..],-14} {values[i],8:0.####}  {options[i].Description}"));
            }

            return ExitCode.Done;
        }));
        return command;

        static Option<decimal?> Factor(string name, string description) => new(name) { Description = description, HelpName = "N" };
    }

    private static void Print(RackAccess access, IEnumerable<TracedBlanks> blanks) => RackText.Table(
        access.World.Out,
        ["batch", "part", "count", "plan", "layout", "cut", "material", "heat", "certificate", "supplier", "from"],
        [.. blanks.GroupBy(one => one with { Count = 0, Marks = [], CutAt = new(one.CutAt.Date, TimeSpan.Zero) }).Select(group => new[]
        {
            // Equal pieces of stock, cut alike from the same metal, in one line.
            group.Key.Batch, group.Key.PartId, group.Sum(one => one.Count).ToString(CultureInfo.InvariantCulture), group.Key.Plan,
            group.Key.Layout.ToString(CultureInfo.InvariantCulture), RackText.Day(group.Max(one => one.CutAt)), group.Key.MaterialId, group.Key.Heat,
            group.Key.Certificate, group.Key.Supplier, string.Join(", ", group.Select(one => string.Join(" ← ", one.Marks))),
        })]);
}
