using Nest.Core.Quantities;

namespace Nest.Solve.Why;

/// <summary>Why a part comes from the form that it comes from.</summary>
/// <param name="Chosen">Forms that the plan cuts it from, with pieces, as text.</param>
/// <param name="NextBest">The best other form; null: there is none.</param>
/// <param name="Difference">By how much the relaxation that bounds the whole plan rises with the part in that form alone: an estimate of what
/// the plan would cost more. Null: not known in the time given.</param>
public sealed record FormReason(string PartId, string Chosen, string? NextBest, Money? Difference);
