using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Judge.Settings;

/// <summary>Where fence or stop stands: the direction of the cuts, the measure, and the saw's angle in thousandths of a degree.</summary>
internal readonly record struct StopAt(CutDirection Direction, Length Measure, int Angle);
