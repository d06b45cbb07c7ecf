namespace Nest.Solve.Plates.ThroughCut;

/// <summary>The nodes of one sheet's through-cuts: they alternate between the directions, so that a node's depth is its stage.</summary>
/// <remarks>Nodes live in one array and are linked by index; given up ones are used again. Changes cost O(brothers).</remarks>
internal sealed class SheetTree
{
    private SheetNode[] _nodes;
    private int _used;
    private int _free = -1;

    public SheetTree(long width, long height)
    {
        _nodes = new SheetNode[16];
        _nodes[0] = new SheetNode { Item = SheetNode.Rest, Width = width, Height = height, Parent = -1, FirstChild = -1, Next = -1, Region = true };
        _used = 1;
    }

    private SheetTree(SheetTree other)
    {
        _nodes = new SheetNode[Math.Max(16, other._used + 8)];
        Array.Copy(other._nodes, _nodes, other._used);
        (_used, _free) = (other._used, other._free);
    }

    public int Count => _used;

    public Span<SheetNode> Nodes => _nodes.AsSpan(0, _used);

    public ref SheetNode this[int index] => ref _nodes[index];

    public SheetTree Clone() => new(this);

    /// <summary>Becomes a copy of another tree without allocating where room is.</summary>
    public void CopyFrom(SheetTree other)
    {
        if (_nodes.Length < other._used)
        {
            _nodes = new SheetNode[other._nodes.Length];
        }

        Array.Copy(other._nodes, _nodes, other._used);
        (_used, _free) = (other._used, other._free);
    }

    /// <summary>Cuts a part of the given size off a rest and returns it; the rest stays behind it. No cut where it fits exactly.</summary>
    public int CutOff(int leaf, byte direction, long size)
    {
        var whole = direction == CutSheet.Across ? _nodes[leaf].Width : _nodes[leaf].Height;
        if (whole == size)
        {
            return leaf;
        }

        var parent = _nodes[leaf].Region ? -1 : _nodes[leaf].Parent;
        if (parent >= 0 && _nodes[parent].Direction == direction)
        {
            var part = New(parent);
            _nodes[part] = _nodes[leaf] with { Next = _nodes[parent].FirstChild };
            _nodes[parent].FirstChild = part;
            Resize(part, direction, size);
            Resize(leaf, direction, whole - size);
            return part;
        }
        else
        {
            var part = New(leaf);
            var rest = New(leaf);
            _nodes[part] = new SheetNode
            {
                Item = SheetNode.Rest, Width = _nodes[leaf].Width, Height = _nodes[leaf].Height, Parent = leaf, FirstChild = -1, Next = rest,
            };
            _nodes[rest] = _nodes[part] with { Next = -1 };
            Resize(part, direction, size);
            Resize(rest, direction, whole - size);
            ref var node = ref _nodes[leaf];
            node.Level = node.Parent < 0 ? 1 : _nodes[node.Parent].Level + 1;
            node.Item = SheetNode.Split;
            node.Direction = direction;
            node.FirstChild = part;
            return part;
        }
    }

    private void Resize(int index, byte direction, long size)
    {
        if (direction == CutSheet.Across)
        {
            _nodes[index].Width = size;
        }
        else
        {
            _nodes[index].Height = size;
        }
    }

    /// <summary>Takes a child out of its parent's list and gives it up.</summary>
    public void Unlink(int parent, int child)
    {
        if (_nodes[parent].FirstChild == child)
        {
            _nodes[parent].FirstChild = _nodes[child].Next;
        }
        else
        {
            var c = _nodes[parent].FirstChild;
            while (_nodes[c].Next != child)
            {
                c = _nodes[c].Next;
            }

            _nodes[c].Next = _nodes[child].Next;
        }

        Release(child);
    }

    public void Release(int index)
    {
        _nodes[index].Item = SheetNode.Unused;
        _nodes[index].Next = _free;
        _free = index;
    }

    public int New(int parent)
    {
        int index;
        if (_free >= 0)
        {
            index = _free;
            _free = _nodes[index].Next;
        }
        else
        {
            if (_used == _nodes.Length)
            {
                Array.Resize(ref _nodes, 2 * _used);
            }

            index = _used++;
        }

        _nodes[index] = new SheetNode { Parent = parent, FirstChild = -1, Next = -1, Item = SheetNode.Rest };
        return index;
    }
}
