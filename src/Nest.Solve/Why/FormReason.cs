using Nest.Core.Quantities;

namespace Nest.Solve.Why;

/// <summary>Why a part comes from the form that it comes from.</summary>
/// <param name="Chosen">Forms that the plan cuts it from, with pieces, as text.</param>
/// <param name="NextBest">The best other form; null: there is none.</param>
/// <param name="Difference">What the whole plan would cost more with it, by planning again with the part in that form alone; an
/// estimate, as both plans may have a gap. Below zero: the second search found a cheaper plan.</param>
public sealed record FormReason(string PartId, string Chosen, string? NextBest, Money? Difference);
