using Nest.Core.Solids;

namespace Nest.Data.Models.Step;

/// <summary>Entities by number, with checks of what their parameters are.</summary>
internal sealed class StepGraph(Dictionary<int, StepEntity> entities)
{
    public IEnumerable<StepEntity> All(string name) => entities.Values.Where(entity => entity.Is(name)).OrderBy(entity => entity.Number);

    public StepEntity Get(int number) =>
        entities.TryGetValue(number, out var entity) ? entity : throw ModelFault.Damaged($"#{number} is named, but is not there");

    public StepEntity Get(StepValue value) => value.Kind == StepKind.Reference
        ? Get((int)value.Number)
        : throw ModelFault.Damaged("an entity is missing where one must be named");

    public StepEntity? Find(StepValue value) => value.Kind == StepKind.Reference && entities.TryGetValue((int)value.Number, out var entity) ? entity : null;

    /// <summary>Parameter of an entity's first name.</summary>
    public static StepValue Value(StepEntity entity, int index) => Value(entity.Parts[0], index, entity.Number);

    public static StepValue Value(StepPart part, int index, int number) => index < part.Values.Length
        ? part.Values[index]
        : throw ModelFault.Damaged($"#{number} ({part.Name}) has too few parameters");

    public static StepValue[] List(StepValue value) => value is { Kind: StepKind.List, Items: { } items } ? items : throw ModelFault.Damaged("a list is missing");

    public static double Number(StepValue value) => value switch
    {
        { Kind: StepKind.Number } => value.Number,
        { Kind: StepKind.Typed, Items: [{ Kind: StepKind.Number } inner] } => inner.Number,
        _ => throw ModelFault.Damaged("a number is missing"),
    };

    public static bool IsTrue(StepValue value) => value is { Kind: StepKind.Word, Text: "T" };

    public Vec3 Point(StepValue value, double scale)
    {
        var entity = Get(value);
        if (entity.Name != "CARTESIAN_POINT")
        {
            throw ModelFault.Damaged($"#{entity.Number} is a {ModelLimits.CleanName(entity.Name)}, not a point");
        }

        var numbers = List(Value(entity, 1));
        var point = numbers.Length == 3 ? new Vec3(Number(numbers[0]), Number(numbers[1]), Number(numbers[2])) * scale : throw ModelFault.Damaged($"#{entity.Number} is no point in space");
        return Math.Max(Math.Abs(point.X), Math.Max(Math.Abs(point.Y), Math.Abs(point.Z))) <= ModelLimits.Farthest
            ? point
            : throw ModelFault.Damaged($"#{entity.Number} lies more than a kilometre away");
    }

    public Vec3 Direction(StepValue value)
    {
        var entity = Get(value);
        var numbers = List(Value(entity, 1));
        var direction = entity.Name == "DIRECTION" && numbers.Length == 3 ? new Vec3(Number(numbers[0]), Number(numbers[1]), Number(numbers[2])) : default;
        return direction.Norm > 1e-12 ? direction.Unit : throw ModelFault.Damaged($"#{entity.Number} is no direction");
    }

    /// <summary>AXIS2_PLACEMENT_3D: z and x may be left out.</summary>
    public Placing Frame(StepValue value, double scale)
    {
        var entity = Get(value);
        if (entity.Name is not "AXIS2_PLACEMENT_3D")
        {
            throw ModelFault.Damaged($"#{entity.Number} is a {ModelLimits.CleanName(entity.Name)}, not a placement");
        }

        var z = Value(entity, 2).Kind == StepKind.Unset ? new Vec3(0, 0, 1) : Direction(Value(entity, 2));
        var x = Value(entity, 3).Kind == StepKind.Unset ? new Vec3(1, 0, 0) : Direction(Value(entity, 3));
        x -= z * Vec3.Dot(x, z);
        x = x.Norm > 1e-9 ? x.Unit : z.AnyAcross();
        return new(x, Vec3.Cross(z, x), z, Point(Value(entity, 1), scale));
    }

    public static double Length(StepValue value, double scale)
    {
        var length = Number(value) * scale;
        return length is > 0 and <= ModelLimits.Farthest ? length : throw ModelFault.Damaged("a radius is not above zero, or beyond all sizes");
    }
}
