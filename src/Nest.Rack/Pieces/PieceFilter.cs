using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;

namespace Nest.Rack.Pieces;

/// <summary>Which pieces to list; what is null or empty matches all.</summary>
public sealed record PieceFilter
{
    /// <summary>States; empty: on the rack, reserved or not.</summary>
    public ImmutableArray<PieceState> States { get; init; } = [];

    public string? MaterialId { get; init; }

    /// <summary>Any of these materials; empty: all.</summary>
    public ImmutableArray<string> MaterialIds { get; init; } = [];

    public Form? Form { get; init; }

    public Length? ThicknessFrom { get; init; }

    public Length? ThicknessTo { get; init; }

    /// <summary>Pieces that hold a box of at least these sides, whichever way it lies.</summary>
    public ImmutableArray<Length> Holds { get; init; } = [];

    /// <summary>Entered on this day or before.</summary>
    public DateOnly? EnteredTo { get; init; }

    public DateOnly? EnteredFrom { get; init; }

    /// <summary>Place, or how it begins.</summary>
    public string? Place { get; init; }

    public string? Heat { get; init; }

    public bool? Bought { get; init; }

    /// <summary>The plan that has reserved them.</summary>
    public long? ReservedFor { get; init; }

    /// <summary>Most rows; null: all.</summary>
    public int? Limit { get; init; }

    internal (string Where, object?[] Values) ToSql()
    {
        var clauses = new List<string>();
        var values = new List<object?>();
        ImmutableArray<PieceState> states = States.IsDefaultOrEmpty ? [PieceState.OnRack, PieceState.Reserved] : States;
        clauses.Add($"piece.state IN ({string.Join(", ", states.Select(state => ((int)state).ToString(CultureInfo.InvariantCulture)))})");
        Add(MaterialId, "piece.material_id = (SELECT id FROM material WHERE name = {0})");
        if (!MaterialIds.IsDefaultOrEmpty)
        {
            var names = MaterialIds.Select((_, i) => string.Create(CultureInfo.InvariantCulture, $"${values.Count + i + 1}")).ToList();
            values.AddRange(MaterialIds);
            clauses.Add($"material.name IN ({string.Join(", ", names)})");
        }

        Add((long?)Form, "piece.form = {0}");
        Add(ThicknessFrom?.Nanometres, "piece.thickness >= {0}");
        Add(ThicknessTo?.Nanometres, "piece.thickness <= {0}");
        var sides = Holds.IsDefault ? [] : Holds.OrderByDescending(side => side).Take(3).ToArray();
        for (var i = 0; i < sides.Length; i++)
        {
            Add(sides[i].Nanometres, string.Create(CultureInfo.InvariantCulture, $"piece.side{i + 1} >= {{0}}"));
        }

        Add(Day(EnteredTo), "piece.entered <= {0}");
        Add(Day(EnteredFrom), "piece.entered >= {0}");
        Add(string.IsNullOrEmpty(Place) ? null : Place, "substr(piece.place, 1, length({0})) = {0} COLLATE NOCASE");
        Add(Heat, "piece.heat = {0}");
        Add(Bought is { } bought ? bought ? 1L : 0L : null, "piece.bought = {0}");
        Add(ReservedFor, "piece.plan_id = {0}");
        var limit = Limit is { } most ? string.Create(CultureInfo.InvariantCulture, $" LIMIT {most}") : "";
        return ($" WHERE {string.Join(" AND ", clauses)} ORDER BY material.name, piece.form, piece.thickness, piece.length DESC, piece.width DESC, piece.id{limit}", [.. values]);

        void Add(object? value, string clause)
        {
            if (value is not null)
            {
                values.Add(value);
                clauses.Add(string.Format(CultureInfo.InvariantCulture, clause, string.Create(CultureInfo.InvariantCulture, $"${values.Count}")));
            }
        }

        static string? Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
    }
}
