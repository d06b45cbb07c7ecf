using System.CommandLine;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Data.Racks;
using Nest.Rack;
using Nest.Rack.Use;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest rack use</c>: which leftovers serve nothing that the shop makes, and which sizes of leftovers it uses again.</summary>
internal static class UseCommand
{
    private static readonly PieceState[] _all = [PieceState.OnRack, PieceState.Reserved, PieceState.Cut, PieceState.Scrapped, PieceState.Lost];

    public static Command Create(RackAccess access)
    {
        var jobs = new Argument<string[]>("jobs") { Description = "Job files or parts lists of what the shop makes, beside the plans that the rack knows.", Arity = ArgumentArity.ZeroOrMore };
        var command = new Command("use", "Which leftovers serve no part that the shop knows, and from which size on leftovers are used again.") { jobs };
        command.SetAction(parsed =>
        {
            var known = new List<Job>();
            foreach (var input in parsed.GetValue(jobs) ?? [])
            {
                if (JobLoader.Load(access.World, input) is not { } given)
                {
                    return ExitCode.InputRefused;
                }

                known.Add(given.Job);
            }

            return access.Run(parsed, false, store =>
            {
                Show(access, store, access.Format(parsed), known);
                return ExitCode.Done;
            });
        });
        return command;
    }

    private static void Show(RackAccess access, RackStore store, LengthFormat format, List<Job> jobs)
    {
        var all = store.List(new() { States = [.. _all] });
        var shapes = store.KnownShapes();
        var free = all.Count(piece => piece.State == PieceState.OnRack);
        if (shapes.IsEmpty && jobs.Count == 0)
        {
            access.Say("No part is known: name job files, or reserve plans on this rack.");
        }
        else
        {
            var idle = LeftoverUse.Idle(all, jobs, shapes);
            access.Say(string.Create(
                CultureInfo.InvariantCulture,
                $"{free} free pieces; {free - idle.Length} serve a part of {(jobs.Count == 0 ? "" : $"{jobs.Count} job{(jobs.Count == 1 ? "" : "s")} or ")}{shapes.Length} that were planned on this rack, {idle.Length} serve none."));
            if (!idle.IsEmpty)
            {
                Idle(access, store, format, idle);
            }
        }

        access.Say("");
        var step = Length.FromNanometres(format.Unit == LengthUnit.Inch ? 12_700_000 : 10_000_000);
        foreach (var bars in (bool[])[true, false])
        {
            access.Say(Words(KeepLimits.From(all, bars, step), format));
        }
    }

    private static void Idle(RackAccess access, RackStore store, LengthFormat format, IReadOnlyCollection<RackPiece> idle)
    {
        var rules = store.Rules;
        var materials = ShopMaterials.Load(null).Value;
        RackText.Table(access.World.Out, ["mark", "form", "material", "size", "entered", "value", "as scrap"],
        [
            .. idle.OrderBy(piece => piece.Entered).Select(piece => new[]
            {
                piece.Mark, piece.Form.Word(), piece.MaterialId, RackText.Size(piece, format), piece.Entered.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
                rules.ValueOf(piece, access.Today).ToString(), Scrap(piece).ToString("0.00", CultureInfo.InvariantCulture),
            }),
        ]);
        access.Say($"Scrap them with: nest rack scrap {string.Join(' ', idle.Select(piece => piece.Mark))}{RackAccess.Named(store)}");

        decimal Scrap(RackPiece piece) => piece.Mass.Kilograms * (materials?.Find(piece.MaterialId)?.ScrapPricePerKilogram ?? 0m);
    }

    private static string Words(KeepLimits limits, LengthFormat format)
    {
        var what = limits.Bars ? "bars" : "plates";
        if (limits.KeepLength is not { } length)
        {
            return string.Create(CultureInfo.InvariantCulture, $"Leftovers of {what}: {limits.Left} left by the saw, {limits.Used} used again; from {KeepLimits.Least} uses on a limit is proposed.");
        }

        var width = limits.KeepWidth is { } side ? $", keep_width = \"{format.Text(side)}\"" : "";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Leftovers of {what}: {limits.Left} left by the saw, {limits.Used} used again, nine of ten of them from this size on: keep_length = \"{format.Text(length)}\"{width} under [[offcuts]]; {limits.Below} smaller ones were not used so far.");
    }
}
