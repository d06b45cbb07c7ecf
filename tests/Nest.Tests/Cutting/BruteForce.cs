using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Tests.Cutting;

/// <summary>Fewest settings by trying every order of cuts that takes a child off either end (offcuts are not measured, a tail comes
/// off last), without any rule to leave orders out. Only for small layouts.</summary>
internal static class BruteForce
{
    public static bool Small(Layout layout)
    {
        var cuts = Splits(layout.Tree!).Sum(Cuts);
        return cuts is >= 2 and <= 9;
    }

    public static int FewestSettings(Layout layout, (CutDirection, Length)? start)
    {
        var splits = Splits(layout.Tree!).ToList();
        var state = splits.Select(node => (First: 0, Last: node.Children.Length - 1, Tail: Cuts(node) == node.Children.Length)).ToArray();
        return Search(splits, state, start, 0, int.MaxValue);
    }

    private static int Search(
        List<CutNode> splits, (int First, int Last, bool Tail)[] state, (CutDirection, Length)? inForce, int used, int best)
    {
        if (used >= best)
        {
            return best;
        }

        var done = true;
        for (var index = 0; index < splits.Count; index++)
        {
            var (first, last, tail) = state[index];
            if (first == last && !tail)
            {
                continue;
            }

            done = false;
            if (!Lies(splits, state, index))
            {
                continue;
            }

            var node = splits[index];
            // An offcut in front of others is not measured: the far edge of the rest lies against the fence.
            bool Waste(int child) => Inner(node.Children[child]).Kind == CutNodeKind.Offcut;
            var free = first < last && Waste(first)
                && (!Enumerable.Range(first + 1, last - first).All(Waste) || Behind(node, first + 1, last, false) >= Size(node, first));
            Try(index, (first == last ? first : first + 1, last, tail && first != last), free ? Behind(node, first + 1, last, tail) : Size(node, first));
            if (!tail && first < last && Inner(node.Children[last]).Kind != CutNodeKind.Offcut)
            {
                Try(index, (first, last - 1, false), Size(node, last));
            }
        }

        return done ? used : best;

        void Try(int index, (int, int, bool) after, Length size)
        {
            var setting = (splits[index].Direction, size);
            var before = state[index];
            state[index] = after;
            best = Search(splits, state, setting, used + (inForce == setting ? 0 : 1), best);
            state[index] = before;
        }
    }

    // Cut free from everything around it.
    private static bool Lies(List<CutNode> splits, (int First, int Last, bool Tail)[] state, int index)
    {
        for (var parent = 0; parent < splits.Count; parent++)
        {
            var child = splits[parent].Children.IndexOf(splits[index]);
            if (child >= 0)
            {
                var (first, last, tail) = state[parent];
                return Lies(splits, state, parent) && (child < first || child > last || (first == last && !tail));
            }
        }

        return true;
    }

    private static Length Behind(CutNode node, int first, int last, bool tail)
    {
        var rip = node.Direction == CutDirection.Rip;
        var (from, to) = (node.Children[first].Area, tail ? node.Area : node.Children[last].Area);
        return rip ? to.Top - from.Y : to.Right - from.X;
    }

    private static Length Size(CutNode node, int child) =>
        node.Direction == CutDirection.Rip ? node.Children[child].Area.SizeY : node.Children[child].Area.SizeX;

    // A split whose only child fills it makes no cut.
    private static CutNode Inner(CutNode node) =>
        node.Kind == CutNodeKind.Split && Cuts(node) == 0 ? Inner(node.Children[0]) : node;

    private static int Cuts(CutNode node)
    {
        var last = node.Children[^1].Area;
        var flush = node.Direction == CutDirection.Rip ? last.Top == node.Area.Top : last.Right == node.Area.Right;
        return node.Children.Length - (flush ? 1 : 0);
    }

    private static IEnumerable<CutNode> Splits(CutNode node) => node.Kind != CutNodeKind.Split
        ? []
        : node.Children.SelectMany(Splits).Prepend(node);
}
