using Nest.Core.Plans;

namespace Nest.Core.Cutting;

/// <summary>How far each split is cut up: its first and last child still together, and whether the tail is still on.</summary>
internal sealed class CutState(SplitGraph graph)
{
    private readonly (int First, int Last, bool Tail)[] left =
        [.. graph.Splits.Select(split => (0, split.Children.Count - 1, split.Tail))];

    public (int First, int Last, bool Tail) Of(int split) => left[split];

    public void Apply(Move move)
    {
        ref var here = ref left[move.Split];
        switch (move.End)
        {
            case CutEnd.Low or CutEnd.FreeLow:
                here.First++;
                break;
            case CutEnd.High or CutEnd.FreeHigh:
                here.Last--;
                break;
            default:
                here.Tail = false;
                break;
        }
    }
}
