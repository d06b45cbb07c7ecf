using Nest.Core.Solids;

namespace Nest.Data.Models.Step;

/// <summary>Units of a STEP file's geometry.</summary>
internal static class StepUnits
{
    /// <summary>Length and angle of a representation's context; null where it has none.</summary>
    public static (ModelUnit Length, double Radians)? Of(StepGraph graph, StepEntity context)
    {
        if (context.Part("GLOBAL_UNIT_ASSIGNED_CONTEXT") is not { } assigned)
        {
            return null;
        }

        ModelUnit? length = null;
        var radians = 1.0;
        foreach (var unit in StepGraph.List(StepGraph.Value(assigned, 0, context.Number)).Select(graph.Get))
        {
            if (unit.Is("LENGTH_UNIT"))
            {
                length = Length(graph, unit, 0);
            }
            else if (unit.Is("PLANE_ANGLE_UNIT") && unit.Part("CONVERSION_BASED_UNIT") is { } converted)
            {
                radians = StepGraph.Number(StepGraph.Value(graph.Get(StepGraph.Value(converted, 1, unit.Number)), 0));
            }
        }

        return length is { } known && radians is > 0 and < 10 ? (known, radians) : null;
    }

    private static ModelUnit Length(StepGraph graph, StepEntity unit, int depth)
    {
        if (depth > 4)
        {
            throw ModelFault.Damaged("a unit is made of itself");
        }

        if (unit.Part("SI_UNIT") is { } si)
        {
            var prefix = StepGraph.Value(si, 0, unit.Number);
            return (prefix.Kind == StepKind.Unset ? "" : prefix.Text) switch
            {
                "" => new("m", 1000),
                "MILLI" => ModelUnits.Millimetre,
                "CENTI" => new("cm", 10),
                "DECI" => new("dm", 100),
                "MICRO" => new("µm", 0.001),
                _ => throw ModelFault.Damaged($"the unit of length has the prefix {ModelLimits.CleanName(prefix.Text)}"),
            };
        }

        if (unit.Part("CONVERSION_BASED_UNIT") is { } based)
        {
            var measure = graph.Get(StepGraph.Value(based, 1, unit.Number));
            var factor = StepGraph.Number(StepGraph.Value(measure, 0));
            var of = Length(graph, graph.Get(StepGraph.Value(measure, 1)), depth + 1);
            var millimetres = factor * of.Millimetres;
            var name = StepGraph.Value(based, 0, unit.Number).Text.ToLowerInvariant();
            return millimetres is > 1e-7 and < 1e6
                ? Math.Abs(millimetres - 25.4) < 1e-9 ? ModelUnits.Inch : new(name, millimetres)
                : throw ModelFault.Damaged("the unit of length is beyond all sizes");
        }

        throw ModelFault.Damaged("the unit of length is not understood");
    }
}
