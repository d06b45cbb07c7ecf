using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Planning;

/// <summary>What planning gives: a plan that passed the checker, or the reasons why there is none.</summary>
/// <param name="Plan">The plan with its part costs; null when the job or the plan was refused. Parts that could not be cut are in its
/// list of what is not placed.</param>
/// <param name="Findings">What is wrong with the job, or, where <paramref name="Refused"/>, with the plan.</param>
/// <param name="Refused">Whether the checker refused a plan that was made: a fault of Nest, nothing may be cut by it.</param>
public sealed record PlanResult(Plan? Plan, ImmutableArray<Finding> Findings, bool Refused);
