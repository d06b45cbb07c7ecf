using System.Runtime.CompilerServices;
using System.Text.Json;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Pieces;

namespace Nest.Rack.Values;

/// <summary>What a piece on the rack counts for when a plan thinks of using it.</summary>
/// <remarks>
/// value = cost carried × condition × age × chance of use − holding, never below zero, rounded down.
/// <list type="bullet">
/// <item>Age: 1 up to <see cref="FreeDays"/>, then falling by <see cref="LossPerYear"/> of the whole a year, not below
/// <see cref="AgeFloor"/>. An old piece is cheaper to use, so plans clear it from the rack.</item>
/// <item>Holding: <see cref="HoldingPerKilogramYear"/> × mass × <see cref="YearsUntilUse"/>: what is saved by using the piece now.</item>
/// </list>
/// The factors' defaults are choices of ours (common practice, no source), not measurements: a shop should set its own. Chance of use
/// is 1 and holding 0 by default, since the fraction at which a job credits offcuts already allows for both.
/// </remarks>
public sealed record ValueRules
{
    public decimal Good { get; init; } = 1m;

    public decimal Fair { get; init; } = 0.85m;

    public decimal Poor { get; init; } = 0.6m;

    /// <summary>Days during which age costs nothing.</summary>
    public int FreeDays { get; init; } = 180;

    /// <summary>Share of the value lost in a year after that.</summary>
    public decimal LossPerYear { get; init; } = 0.2m;

    /// <summary>Smallest factor of age.</summary>
    public decimal AgeFloor { get; init; } = 0.4m;

    /// <summary>Chance that the piece is used at all if not now.</summary>
    public decimal ChanceOfUse { get; init; } = 1m;

    /// <summary>Cost of keeping a kilogram for a year.</summary>
    public decimal HoldingPerKilogramYear { get; init; }

    /// <summary>Years it would wait if not used now.</summary>
    public decimal YearsUntilUse { get; init; } = 0.5m;

    /// <summary>The value on a day.</summary>
    public Money ValueOf(RackPiece piece, DateOnly day)
    {
        var factor = Condition(piece.Condition) * Age(day.DayNumber - piece.Entered.DayNumber) * ChanceOfUse;
        var holding = HoldingPerKilogramYear * YearsUntilUse * piece.Mass.Kilograms;
        var value = (piece.Value.Amount * factor) - holding;
        return value <= 0m ? Money.Zero : Money.FromAmountDown(value);
    }

    /// <summary>Factor of age.</summary>
    public decimal Age(int days) => days <= FreeDays ? 1m : Math.Max(AgeFloor, 1m - (LossPerYear * (days - FreeDays) / 365m));

    internal string ToJson() => JsonSerializer.Serialize(this);

    /// <param name="json">Null: the defaults; then nothing of JSON need be loaded.</param>
    internal static ValueRules FromJson(string? json) => json is null ? new() : Parsed(json);

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static ValueRules Parsed(string json) => JsonSerializer.Deserialize<ValueRules>(json) ?? new();

    internal void Check()
    {
        foreach (var (name, factor) in new[]
        {
            ("condition good", Good), ("condition fair", Fair), ("condition poor", Poor), ("loss per year", LossPerYear),
            ("age floor", AgeFloor), ("chance of use", ChanceOfUse),
        })
        {
            if (factor is < 0m or > 1m)
            {
                throw RackException.Refused($"{name} must be from 0 to 1, not {factor}", "give a share such as 0.8");
            }
        }

        if (FreeDays < 0 || HoldingPerKilogramYear < 0m || YearsUntilUse < 0m)
        {
            throw RackException.Refused("days, holding cost and years until use must not be below zero", "give 0 or more");
        }
    }

    /// <summary>The rules that a rack has set.</summary>
    internal static ValueRules Of(Database.Db db) =>
        FromJson((string?)db.Value("SELECT value FROM setting WHERE name = $1", RackStore.RulesName));

    /// <summary>Factor of condition.</summary>
    internal decimal Condition(PieceCondition condition) => condition switch
    {
        PieceCondition.Good => Good,
        PieceCondition.Fair => Fair,
        _ => Poor,
    };
}
