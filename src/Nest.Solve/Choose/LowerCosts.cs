using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>A linear function below the cost of every layout: cost(p) ≥ Stock_s + Σ a_i·Piece_si, from which kernels make bounds that
/// are valid for the whole job.</summary>
/// <remarks>
/// Bars: the cost is linear already but for the value of the leftover, which the bar kernel takes exactly (see
/// <see cref="GroupSolver"/>); here Stock is the price and the loading, with the cut of the left trim, where no end is clean, less the trims' scrap.
/// Plates: what is not blank is at best worth the keeping rate. Blanks and offcuts, each grown by one kerf, still fit the usable plate
/// grown by one kerf, so cost ≥ price (with loading) − trims' scrap − rate·((X + k)(Y + k) − Σ (x + k)(y + k)). They fit ungrown too, so the same holds
/// without the kerfs, and for every mixture of both: where the kerfs' share would make Stock negative (small plates worth nearly what their metal
/// is, clean all round), just so much of it is taken that it is not. Cutter: as its skeleton is scrap and its border may be, without the kerf. Where the usable
/// plate is too small for any offcut worth keeping, the rate is that of scrap.
/// Through-cuts: every edge of a blank lies on the usable boundary or on a cut, and a cut has two sides. A raw edge at the left or bottom
/// is cut off in every layout; a raw edge at the right or top is cut off, over its whole length, where a blank lies on it: so the cut on it
/// is longer than what that saves elsewhere, and it may count nothing. With Y the clean or left edges' length and X that of the bottom and a
/// clean top, the tree's cuts are at least Σ (x + y) − ½ (those edges) long.
/// Number of cuts: let n be the blanks of a tree and u the edges of the usable plate on which no blank lies. Then the tree has at least
/// n − 1 + u cuts. Proof by induction over the tree: such an edge of a node is an edge of a child without blanks, or a cut behind the last
/// child, or such an edge of a child. Each raw edge is either cut off or one of the u. So with t raw edges there are at least n − 1 + t cuts
/// in all. Where none is raw there are at least n, if the blanks cannot tile the plate without any rest (<see cref="NeverTiles"/>).
/// All are also at least zero, so any share λ of them is a valid bound too: λ is chosen
/// so that Stock stays ≥ 0. Cutter: outlines are exact.
/// Where no offcut is large enough to keep, the same holds with the scrap rate: the bare values.
/// All pieces are rounded down, in money units.
/// </remarks>
internal sealed class LowerCosts
{
    /// <summary>Parts in which the kerfs' share is mixed.</summary>
    private const int Mixture = 64;

    private readonly Component _component;

    /// <summary>By how much the fixed part was raised to 0.</summary>
    private readonly long[] _raised;

    public LowerCosts(Component component)
    {
        _component = component;
        var stocks = component.Stocks.Length;
        Stock = new long[stocks];
        Piece = new long[stocks, component.Items];
        BareStock = new long[stocks];
        WholeStock = new long[stocks];
        WholePiece = new long[stocks, component.Items];
        _raised = new long[stocks];
        BarePiece = new long[stocks, component.Items];
        for (var s = 0; s < stocks; s++)
        {
            if (component.Stocks[s].IsBar)
            {
                Bar(s);
            }
            else
            {
                var frame = component.Stocks[s];
                Plate(s, (frame.MayKeep ? frame.Worth.Keep : frame.Worth.Scrap).Units, Stock, Piece, whole: false);
                Plate(s, frame.Worth.Scrap.Units, BareStock, BarePiece, whole: true);
                Plate(s, (frame.MayKeep ? frame.Worth.Keep : frame.Worth.Scrap).Units, WholeStock, WholePiece, whole: true);
            }

            Clamp(s);
        }
    }

    /// <summary>Fixed part per stock, at least 0.</summary>
    public long[] Stock { get; }

    /// <summary>Part per piece [stock, item], at least 0; 0 where the item does not come from the stock.</summary>
    public long[,] Piece { get; }

    /// <summary>As <see cref="Stock"/> where no offcut is kept: what is not blank is scrap. May be below zero.</summary>
    public long[] BareStock { get; }

    /// <summary>As <see cref="Piece"/> where no offcut is kept.</summary>
    public long[,] BarePiece { get; }

    /// <summary>Plates: as <see cref="Stock"/> and <see cref="WholePiece"/> with the shares of kerfs and cuts whole; may be below zero. A bound too, higher
    /// where many pieces come from little metal; for models that may take a negative cost.</summary>
    public long[] WholeStock { get; }

    /// <summary>As <see cref="Piece"/>, with <see cref="WholeStock"/>.</summary>
    public long[,] WholePiece { get; }

    /// <summary>False where a stock is worth more as leftover or scrap than its price: then no bound is claimed for the component. Bought stock so
    /// priced is refused (<c>JobChecker</c>), leftovers are solved at their scrap value (<see cref="StockTwins"/>).</summary>
    public bool Valid { get; private set; } = true;

    /// <summary>By how much the roundings of the fixed parts may have raised the cost of a plan with so many pieces of stock.</summary>
    public Money Roundings(ReadOnlySpan<int> demand)
    {
        long most = 0;
        foreach (var pieces in demand)
        {
            most += pieces;
        }

        return Money.FromUnits(_raised.DefaultIfEmpty(0).Max() * most);
    }

    /// <summary>The lower cost of a layout with these pieces.</summary>
    public long Of(int stock, ReadOnlySpan<int> counts, long cost)
    {
        if (_component.Stocks[stock].IsBar)
        {
            return cost;
        }

        var lower = Stock[stock];
        for (var i = 0; i < counts.Length; i++)
        {
            lower += counts[i] * Piece[stock, i];
        }

        lower -= _raised[stock];
        _ = Contradictions.Found(lower, cost, "linear lower cost");
        return lower;
    }

    private void Bar(int s)
    {
        var frame = _component.Stocks[s];
        var left = frame.Trims.Left > Length.Zero && !frame.Stock.CleanEdges.Right ? frame.BarCut.Units : 0;
        Stock[s] = frame.Stock.PiecePrice.Units + frame.Loading.Units + left - frame.TrimCredit();
        for (var i = 0; i < _component.Items; i++)
        {
            if (_component.Fits[s, i] is { } fit)
            {
                Piece[s, i] = fit.ExtraCost.Units + frame.BarCut.Units + fit.AngledCuts.Units;
            }
        }

        // What is left is worth at most scrap: per bar rounded up, per piece down (as StockSize.LeftoverRate does for keeping).
        var sheet = (Int128)frame.Sheet.SizeX.Nanometres;
        var scrap = (Int128)frame.Worth.Scrap.Units;
        BareStock[s] = Stock[s] - (long)((((frame.Usable.SizeX + frame.Saw.Kerf).Nanometres * scrap) + sheet - 1) / sheet);
        for (var i = 0; i < _component.Items; i++)
        {
            if (_component.Fits[s, i] is { } fit)
            {
                BarePiece[s, i] = Piece[s, i] + (long)((fit.SizeX + frame.Saw.Kerf).Nanometres * scrap / sheet);
            }
        }
    }

    /// <param name="worth">Of the whole sheet, as keeping or as scrap, in money units.</param>
    /// <param name="whole">Take the shares of kerfs and cuts whole, whatever becomes of Stock.</param>
    private void Plate(int s, long worth, long[] stock, long[,] piece, bool whole)
    {
        var frame = _component.Stocks[s];
        var sheet = frame.Sheet.Area.SquareNanometres;
        var kerf = frame.IsFree ? Length.Zero : frame.Saw.Kerf;
        var room = frame.IsFree ? frame.Sheet : frame.Usable;
        var price = frame.Stock.PiecePrice.Units + frame.Loading.Units - frame.TrimCredit();
        var mixed = frame.IsFree ? 0 : Mixture;
        while (!whole && mixed > 0 && Metal(mixed) + TrimSaw(frame) < 1)
        {
            mixed--;
        }

        var metal = Metal(mixed);
        var (perNanometre, perCut) = frame.SawRate;
        var (trims, usable) = (frame.Trims, frame.Usable);

        // Twice the length of the edges on which a blank may lie without a cut of its own there.
        var boundary = usable.SizeY.Nanometres + usable.SizeX.Nanometres
            + (trims.Right == Length.Zero ? usable.SizeY.Nanometres : 0) + (trims.Top == Length.Zero ? usable.SizeX.Nanometres : 0);
        Length[] edges = [trims.Left, trims.Right, trims.Bottom, trims.Top];
        var raw = edges.Count(trim => trim > Length.Zero);
        decimal share = 1;
        if (frame.IsFree)
        {
            stock[s] = metal;
        }
        else
        {
            var paid = TrimSaw(frame) + (perCut * raw);
            var owed = (perNanometre * boundary / 2m) + (raw > 0 || !NeverTiles(s) ? perCut : 0m);
            var budget = Math.Max(0m, metal + paid - 1);
            share = whole || owed <= budget || owed == 0m ? 1m : budget / owed;
            // Minus one: the saw cost is rounded once per layout.
            stock[s] = (long)decimal.Floor(metal + paid - (share * owed)) - 1;
        }

        for (var i = 0; i < _component.Items; i++)
        {
            if (_component.Fits[s, i] is not { } fit)
            {
                continue;
            }

            var half = (fit.SizeX + fit.SizeY).Nanometres;
            var saw = frame.IsFree ? (2 * half * perNanometre) + perCut : share * ((half * perNanometre) + perCut);
            piece[s, i] = (long)(worth * Grown(fit.SizeX, fit.SizeY, mixed) / (sheet * Mixture)) + (long)decimal.Floor(saw) + fit.ExtraCost.Units;
        }

        long Metal(int share) => price - (long)(((worth * Grown(room.SizeX, room.SizeY, share)) + (sheet * Mixture) - 1) / (sheet * Mixture));

        // An area with so many parts of its kerfs, times Mixture. Below 2^76, and worth below 2^40.
        Int128 Grown(Length x, Length y, int share) => ((x * y).SquareNanometres * Mixture)
            + (((((x + y) * kerf).SquareNanometres) + (kerf * kerf).SquareNanometres) * share);
    }

    /// <summary>Whether no row of blanks fills the plate's length, or no column its width, to the nanometre: then every layout has a
    /// rest, or dust, and with it one cut more. Unbounded subset sums over kerf-grown sizes; gives up (false) on fine rasters.</summary>
    private bool NeverTiles(int s)
    {
        var frame = _component.Stocks[s];
        var kerf = _component.Units(frame.Saw.Kerf);
        var sizes = new HashSet<long>();
        var across = new HashSet<long>();
        for (var i = 0; i < _component.Items; i++)
        {
            if (_component.Fits[s, i] is not { } fit)
            {
                continue;
            }

            sizes.Add(_component.SizeX(s, i) + kerf);
            across.Add(_component.SizeY(s, i) + kerf);
            if (fit.MayTurn)
            {
                sizes.Add(_component.SizeY(s, i) + kerf);
                across.Add(_component.SizeX(s, i) + kerf);
            }
        }

        return !Fills(_component.Units(frame.Usable.SizeX) + kerf, sizes) || !Fills(_component.Units(frame.Usable.SizeY) + kerf, across);
    }

    private static bool Fills(long room, HashSet<long> sizes)
    {
        const int Finest = 2_000_000;
        if (room > Finest)
        {
            return true;
        }

        var reached = new bool[room + 1];
        reached[0] = true;
        for (var at = 1; at <= room; at++)
        {
            foreach (var size in sizes)
            {
                if (size <= at && reached[at - size])
                {
                    reached[at] = true;
                    break;
                }
            }
        }

        return reached[room];
    }

    private void Clamp(int s)
    {
        // A unit or two below zero is rounding; more means that the stock is worth more left over than bought.
        if (Stock[s] < -4)
        {
            Valid = false;
        }

        _raised[s] = Math.Max(0, -Stock[s]);
        Stock[s] = Math.Max(0, Stock[s]);
    }

    /// <summary>What sawing along the trims costs that every layout cuts off; how many cuts all of them take is counted apart.</summary>
    private static decimal TrimSaw(StockFrame frame)
    {
        var (perNanometre, _) = frame.SawRate;
        return perNanometre * ((frame.Trims.Left > Length.Zero ? frame.Sheet.SizeY.Nanometres : 0L)
            + (frame.Trims.Bottom > Length.Zero ? frame.Usable.SizeX.Nanometres : 0L));
    }
}
