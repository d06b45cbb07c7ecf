namespace Nest.Solve.Plates.ThroughCut;

/// <summary>One plate while it is being searched: a tree of through-cuts with free rests, into which pieces are put and from which
/// they are taken again.</summary>
/// <remarks>
/// Method: guillotine free-rectangle tree (after Fleszar, "Three insertion heuristics ... with guillotine cuts", 2013). A piece goes
/// into the corner of a rest; the rest is cut in either order, and cuts parallel to those of the parent join the parent's stage, so
/// that the tree always alternates and its depth is the number of stages. Taking a piece out joins its area with the rest beside it.
/// The rules of the saw (<see cref="SheetRules"/>) are checked where a cut is made.
/// Cost: O(nodes) per change, O(rests) per look-up. Heuristic.
/// </remarks>
internal sealed class CutSheet
{
    /// <summary>Cuts parallel to Y (crosscut): divide X.</summary>
    public const byte Across = 0;

    /// <summary>Cuts parallel to X (rip): divide Y.</summary>
    public const byte Along = 1;

    private SheetTree _nodes;
    private SheetRests _rests;

    /// <param name="leastWidth">A rest below these sizes is of no use to any piece and is not offered.</param>
    public CutSheet(int stock, long width, long height, long leastWidth, long leastHeight)
    {
        Stock = stock;
        _rests = new(leastWidth, leastHeight);
        _nodes = new SheetTree(width, height);
        Changed();
    }

    public int Stock { get; private set; }

    /// <summary>Pieces on the sheet, their inflated area, and a hash of the multiset.</summary>
    public int Pieces { get; private set; }
    public double Filled { get; private set; }
    public ulong Key { get; private set; }

    /// <summary>What <see cref="SheetCosts"/> made of it; NaN: not known, or changed since.</summary>
    public double Cost { get; set; } = double.NaN;

    /// <inheritdoc cref="Cost"/>
    public double Settings { get; set; } = double.NaN;

    /// <summary>Area of the largest rest; pieces above it need not look here.</summary>
    public double LargestRest => _rests.Largest;

    /// <summary>Sum of the squared areas of the usable rests: the larger, the more in one piece is what is left.</summary>
    public double RestSquares => _rests.Squares;

    public ReadOnlySpan<SheetNode> Nodes => _nodes.Nodes;
    public ReadOnlySpan<int> Rests => _rests.Leaves;

    public CutSheet Clone()
    {
        var copy = (CutSheet)MemberwiseClone();
        copy._nodes = _nodes.Clone();
        copy._rests = _rests.Clone();
        return copy;
    }

    /// <summary>Becomes a copy of another sheet without allocating where room is.</summary>
    public void CopyFrom(CutSheet other)
    {
        Stock = other.Stock;
        Pieces = other.Pieces;
        Filled = other.Filled;
        Key = other.Key;
        Cost = other.Cost;
        Settings = other.Settings;
        _nodes.CopyFrom(other._nodes);
        _rests.CopyFrom(other._rests);
    }

    /// <summary>Best place for a piece of this inflated size.</summary>
    public bool BestSpot(ThroughModel model, long width, long height, out Spot best) => _rests.BestSpot(model, _nodes, width, height, out best);

    /// <summary>Puts a piece at a spot found before.</summary>
    public void Put(ThroughModel model, in Spot spot, int item, bool turned) => Put(
        spot, new Block(item, turned, 1, 1, true, turned ? model.Height[item] : model.Width[item], turned ? model.Width[item] : model.Height[item]));

    /// <summary>Puts a block at a spot found before for its whole size.</summary>
    public void Put(in Spot spot, in Block block)
    {
        var (width, height) = (block.Columns * block.Width, block.Rows * block.Height);
        var holder = _nodes.CutOff(spot.Leaf, spot.Direction, spot.Direction == Across ? width : height);
        var place = _nodes.CutOff(holder, (byte)(1 - spot.Direction), spot.Direction == Across ? height : width);
        var rows = (Direction: Along, Number: block.Rows, Size: block.Height);
        var columns = (Direction: Across, Number: block.Columns, Size: block.Width);
        var (outer, inner) = block.RowsFirst ? (rows, columns) : (columns, rows);
        for (var n = 0; n < outer.Number; n++)
        {
            var line = _nodes.CutOff(place, outer.Direction, outer.Size);
            place = Behind(place, line);
            for (var m = 0; m < inner.Number; m++)
            {
                var cell = _nodes.CutOff(line, inner.Direction, inner.Size);
                line = Behind(line, cell);
                ref var node = ref _nodes[cell];
                (node.Item, node.Turned) = (block.Item, block.Turned);
                Pieces++;
                Filled += (double)block.Width * block.Height;
                Key = unchecked(Key + Hash(block.Item));
            }
        }

        Changed();
    }

    /// <summary>What is left of a rest after a part was cut off: the rest itself where the cut joined its parent's stage.</summary>
    private int Behind(int rest, int part) => part == rest || _nodes[rest].Item == SheetNode.Rest ? rest : _nodes[part].Next;

    /// <summary>Takes out a subtree (a piece or a split) and tells its items.</summary>
    public void Take(ThroughModel model, int index, List<int> items)
    {
        var keepRegion = index;
        Empty(model, index, items);
        // Upwards: join with the rest beside it; a split with nothing but a rest is a rest itself.
        while (!_nodes[keepRegion].Region)
        {
            var parent = _nodes[keepRegion].Parent;
            var others = 0;
            var rest = -1;
            for (var c = _nodes[parent].FirstChild; c >= 0; c = _nodes[c].Next)
            {
                if (c == keepRegion)
                {
                    continue;
                }

                if (_nodes[c].Item == SheetNode.Rest && !_nodes[c].Region)
                {
                    rest = c;
                }
                else
                {
                    others++;
                }
            }

            if (rest >= 0)
            {
                if (_nodes[parent].Direction == Across)
                {
                    _nodes[keepRegion].Width += _nodes[rest].Width;
                }
                else
                {
                    _nodes[keepRegion].Height += _nodes[rest].Height;
                }

                _nodes.Unlink(parent, rest);
            }

            if (others > 0)
            {
                break;
            }

            _nodes.Unlink(parent, keepRegion);
            _nodes[parent].Item = SheetNode.Rest;
            _nodes[parent].FirstChild = -1;
            keepRegion = parent;
        }

        Changed();
    }

    /// <summary>Divides a rest into two rests (used to cut round keep-outs); both become regions.</summary>
    public (int Low, int High) Divide(int leaf, byte direction, long low)
    {
        var level = _nodes[leaf].Parent < 0 ? 1 : _nodes[_nodes[leaf].Parent].Level + 1;
        var a = _nodes.New(leaf);
        var b = _nodes.New(leaf);
        _nodes[a] = _nodes[leaf] with { Parent = leaf, Next = b, FirstChild = -1, Item = SheetNode.Rest, Region = true };
        _nodes[b] = _nodes[a] with { Next = -1 };
        if (direction == Across)
        {
            _nodes[a].Width = low;
            _nodes[b].Width -= low;
        }
        else
        {
            _nodes[a].Height = low;
            _nodes[b].Height -= low;
        }

        ref var node = ref _nodes[leaf];
        node.Item = SheetNode.Split;
        node.Direction = direction;
        node.Level = level;
        node.FirstChild = a;
        Changed();
        return (a, b);
    }

    /// <summary>Builds a whole pattern into an empty sheet; false where it breaks a rule of the saw.</summary>
    public bool Build(ThroughModel model, GuillotineCut pattern)
    {
        Build(0, pattern);
        Changed();
        return SheetRules.Obey(model, _nodes);
    }

    private void Build(int leaf, GuillotineCut cut)
    {
        if (cut.Item < 0 && cut.Low is null)
        {
            return;
        }

        var first = cut.Item >= 0 || cut.Direction == Across ? Along : Across;
        var place = _nodes.CutOff(leaf, first, first == Along ? cut.Height : cut.Width);
        if (cut.Item >= 0)
        {
            place = _nodes.CutOff(place, Across, cut.Width);
            ref var node = ref _nodes[place];
            node.Item = cut.Item;
            node.Turned = cut.Turned;
            Pieces++;
            Filled += (double)node.Width * node.Height;
            Key = unchecked(Key + Hash(cut.Item));
            return;
        }

        var low = _nodes.CutOff(place, cut.Direction, cut.At);
        var high = _nodes[low].Next;
        if (_nodes[place].Item == SheetNode.Rest)
        {
            high = place; // the cut joined the parent's stage and the place itself is what remains
        }

        Build(low, cut.Low!);
        Build(high, cut.High!);
    }

    /// <summary>Marks a rest as not usable.</summary>
    public void Kill(int leaf)
    {
        _nodes[leaf].Item = SheetNode.Dead;
        Changed();
    }

    public void AddCounts(Span<int> counts, int times = 1)
    {
        for (var n = 0; n < _nodes.Count; n++)
        {
            if (_nodes[n].Item >= 0)
            {
                counts[_nodes[n].Item] += times;
            }
        }
    }

    private void Changed()
    {
        _rests.Refresh(_nodes.Nodes);
        (Cost, Settings) = (double.NaN, double.NaN);
    }

    private void Empty(ThroughModel model, int index, List<int> items)
    {
        if (_nodes[index].Item >= 0)
        {
            var item = _nodes[index].Item;
            items.Add(item);
            Pieces--;
            Filled -= (double)_nodes[index].Width * _nodes[index].Height;
            Key = unchecked(Key - Hash(item));
        }

        for (var c = _nodes[index].FirstChild; c >= 0;)
        {
            var next = _nodes[c].Next;
            Empty(model, c, items);
            _nodes.Release(c);
            c = next;
        }

        _nodes[index].Item = SheetNode.Rest;
        _nodes[index].FirstChild = -1;
    }

    /// <summary>Spreads an item's index over 64 bits (splitmix64), so that a sum over pieces tells multisets apart.</summary>
    private static ulong Hash(int item)
    {
        unchecked
        {
            var z = (ulong)(item + 1) * 0x9E3779B97F4A7C15UL;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
            return z ^ (z >> 31);
        }
    }
}
