using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Data.Racks;
using Nest.Rack;
using Nest.Rack.Exchange;
using Nest.Rack.History;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;

namespace Nest.Desk.Model;

/// <summary>A piece of the rack, as the list shows it.</summary>
internal sealed record RackRow(string Mark, string Material, string Size, string Place, string Heat, string State);

/// <summary>The shop's rack for the pages: each change is one transaction of <see cref="RackStore"/>, and what that refuses is told in its own words.</summary>
internal sealed class RackRoom(Shop shop, TimeProvider time)
{
    /// <summary>Rows that one page shows at most.</summary>
    private const int Most = 500;

    private static readonly string[] Forms = [.. Enum.GetValues<Form>().Select(form => form.Word())];

    public bool IsThere => File.Exists(shop.RackFile);

    public static IReadOnlyList<string> FormWords => Forms;

    /// <param name="find">Part of the mark, material or place; empty: all.</param>
    /// <param name="holds">Sides of a box that the piece has to hold, whichever way it lies; empty: any.</param>
    public (IReadOnlyList<RackRow> Rows, int All, string Problem) List(string find, string holds)
    {
        var found = new List<RackRow>();
        var all = 0;
        var problem = Do(store =>
        {
            var format = FormatOf(store);
            var sides = holds.Trim().Length == 0 ? default : SizeText.Read(holds, format.Unit);
            if (sides.Error is { Length: > 0 } error)
            {
                return $"{error}; {sides.Hint}";
            }

            var pieces = store.List(new PieceFilter { Holds = sides.Items.IsDefaultOrEmpty ? [] : [.. sides.Items.Select(side => side.Length)] });
            all = pieces.Length;
            found.AddRange(pieces.Where(piece => Has(piece.Mark) || Has(piece.MaterialId) || Has(piece.Place) || Has(piece.Heat)).Take(Most).Select(piece => Row(piece, format)));
            return "";
        });
        return (found, all, problem);

        bool Has(string text) => text.Contains(find.Trim(), StringComparison.OrdinalIgnoreCase);
    }

    public IReadOnlyList<ChangeRecord> History()
    {
        IReadOnlyList<ChangeRecord> changes = [];
        Do(store =>
        {
            changes = store.History(100);
            return "";
        });
        return changes;
    }

    /// <returns>What was done, or why not.</returns>
    public string Move(IReadOnlyCollection<string> marks, string place) => Do(store =>
        string.Create(CultureInfo.InvariantCulture, $"{store.Move(marks, place).Length} moved to {(place.Trim().Length == 0 ? "no place" : place.Trim())}."));

    /// <returns>What was taken back, or why not.</returns>
    public string Undo(long change) => Do(store => $"Taken back: {store.Undo(change).Summary}.");

    /// <summary>Enters one piece, a leftover of no value yet.</summary>
    /// <returns>What was done, or why not.</returns>
    public string Add(string form, string material, string size, string place, string heat, string worth = "") => Do(store =>
    {
        TellUnit(store);
        var kind = (Form)Math.Max(0, Array.IndexOf(Forms, form));
        var known = ShopMaterials.Load(null).Value;
        if (known?.Find(material.Trim()) is not { } found)
        {
            return $"The material '{material}' is not known; it is one of: {string.Join(", ", known?.All.Select(one => one.Id) ?? [])}.";
        }

        if (PieceSizes.Of(kind, size, FormatOf(store).Unit, read => $"{read.Error}; {read.Hint}", out var error) is not { } sizes)
        {
            return error;
        }

        var told = decimal.TryParse(worth.Trim(), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var amount) && amount is >= 0 and <= 1_000_000;
        if (!told && worth.Trim().Length > 0)
        {
            return $"'{worth.Trim()}' is no amount: write it as 12.50, or leave it out.";
        }

        store.Learn([found]);
        var added = store.Add(new RackPiece
        {
            Form = kind, MaterialId = found.Id, Length = sizes.Length, Width = sizes.Width, Thickness = sizes.Thickness, Detail = sizes.Detail, Place = place.Trim(), Heat = heat.Trim(), Value = Money.FromAmount(told ? amount : 0m),
        });
        return $"Paint {added.Mark} on it.{(told ? "" : " " + DeskTexts.Unpriced)}";
    });

    /// <summary>A rack that was never told its unit takes that of the shop.</summary>
    /// <param name="otherwise">Unit where the shop names none.</param>
    public void TellUnit(RackStore store, LengthUnit otherwise = LengthUnit.Millimetre)
    {
        if (store.Unit is null)
        {
            store.SetUnit((shop.Unit ?? (otherwise == LengthUnit.Inch ? "in" : "mm")) == "in" ? "in" : "mm");
        }
    }

    /// <summary>What the rack refused, and what to do, as a sentence.</summary>
    public static string Words(RackException refused) => PageWords.Of(refused);

    public static RackRow RowOf(RackStore store, RackPiece piece) => Row(piece, FormatOf(store));

    public static LengthFormat FormatOf(RackStore store) => LengthFormat.For(store.Unit == "in" ? LengthUnit.Inch : LengthUnit.Millimetre, 0);

    private static RackRow Row(RackPiece piece, LengthFormat format) => new(piece.Mark, piece.MaterialId, $"{piece.Form.Word()} {PieceSizes.Text(piece, format)}", piece.Place, piece.Heat, piece.State switch
    {
        PieceState.OnRack => "free",
        PieceState.Reserved => $"reserved for {PlanNumber.Format(piece.ReservedFor ?? 0)}",
        PieceState.Cut => "cut up",
        PieceState.Scrapped => "thrown away",
        _ => "not found when it was counted",
    });

    private string Do(Func<RackStore, string> work)
    {
        try
        {
            using var store = RackStore.Open(shop.RackFile, new() { Clock = time });
            return work(store);
        }
        catch (RackException refused)
        {
            return Words(refused);
        }
    }
}
