namespace Nest.Solve.Plates.Free;

/// <summary>Filled plates seen so far, one for each stock and set of pieces; the columns of the restricted master.</summary>
internal sealed class FreePool
{
    private readonly FreeModel _model;
    private readonly ulong[] _code;
    private readonly Dictionary<ulong, FreePlate> _plates = [];
    private readonly int _most;

    public FreePool(FreeModel model, int most)
    {
        _model = model;
        _most = most;
        var random = new FreeRandom(0x5EED);
        _code = [.. Enumerable.Range(0, model.Kinds + model.Stocks.Length).Select(_ => random.Next())];
    }

    public int Count => _plates.Count;

    public IEnumerable<FreePlate> Plates => _plates.Values;

    /// <summary>Zobrist-like sum: the order of pieces does not matter.</summary>
    private ulong Code(int stock, ReadOnlySpan<FreePlaced> placed)
    {
        unchecked
        {
            var code = _code[_model.Kinds + stock];
            foreach (ref readonly var p in placed)
            {
                code += _code[p.Kind];
            }

            return code;
        }
    }

    public void Add(int stock, ReadOnlySpan<FreePlaced> placed)
    {
        if (placed.Length == 0)
        {
            return;
        }

        var code = Code(stock, placed);
        if (_plates.ContainsKey(code))
        {
            return;
        }

        if (_plates.Count >= _most)
        {
            Thin();
        }

        _plates.Add(code, FreePlate.From(_model, stock, placed));
    }

    public void Add(FreePlan plan)
    {
        foreach (var (plate, _) in plan.Plates)
        {
            Add(plate.Stock, plate.Placed);
        }
    }

    /// <summary>Keeps the better filled half of each stock.</summary>
    private void Thin()
    {
        var kept = _plates.GroupBy(p => p.Value.Stock)
            .SelectMany(g => g.OrderByDescending(p => p.Value.Area).ThenBy(p => p.Key).Take((g.Count() + 1) / 2)).ToArray();
        _plates.Clear();
        foreach (var (code, plate) in kept)
        {
            _plates.Add(code, plate);
        }
    }
}
