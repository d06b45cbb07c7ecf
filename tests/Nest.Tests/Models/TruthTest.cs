using System.Text.Json;
using Nest.Core.Solids;

namespace Nest.Tests.Models;

/// <summary>Every model file against what is known of it: files/truth.json, made with a general-purpose CAD kernel and closed forms.</summary>
public class TruthTest
{
    public static TheoryData<string> Files => [.. ModelFiles.Truth.Select(entry => entry.GetProperty("file").GetString()!)];

    [Theory]
    [MemberData(nameof(Files))]
    public void A_file_is_read_as_it_is_known(string name)
    {
        var truth = ModelFiles.TruthOf(name);
        var model = ModelFiles.Read(name);

        var unit = truth.GetProperty("unit").GetString()!;
        model.MillimetresPerUnit.Should().Be(unit == "inch" ? 25.4 : 1);
        if (truth.TryGetProperty("unit_in_file", out var told) && !told.GetBoolean())
        {
            model.Unit.Should().MatchRegex("assumed|as given", "a unit is never taken in silence");
        }

        if (truth.TryGetProperty("outlines", out var outlines))
        {
            Outlines(model, outlines);
            return;
        }

        Boxes(model, truth);
        Sums(model, truth);
        Names(model, truth);
    }

    private static void Boxes(Model model, JsonElement truth)
    {
        if (truth.TryGetProperty("box_mm", out var whole))
        {
            Whole(model).Should().BeEquivalentTo(Size(whole.GetProperty("size")), options => options.Using<double>(
                context => context.Subject.Should().BeApproximately(context.Expectation, Slack(whole, context.Expectation))).WhenTypeIs<double>());
        }

        foreach (var (part, wanted) in Parts(model, truth))
        {
            if (!wanted.TryGetProperty("smallest_box_mm", out var smallest))
            {
                continue;
            }

            var boxes = BoxSearch.Of(part.Body)!;
            var volume = smallest.GetProperty("volume").GetDouble();
            // Known is a box that surely holds the part; ours may not be larger, but for the file's digits.
            boxes.Smallest.Volume.Should().BeInRange(volume * (1 - 1e-4), volume * (1 + 2e-6), part.Name);
            boxes.SmallestAtLeast.Should().BeLessThanOrEqualTo(volume * (1 + 1e-6));
            boxes.Gap.Should().BeLessThan(part.Body is MeshBody ? 1e-6 : 0.01);
            if (boxes.OnFlat is { } flat)
            {
                flat.Volume.Should().BeGreaterThanOrEqualTo(boxes.Smallest.Volume * (1 - 1e-6));
            }

            if (smallest.GetProperty("construction_is_smallest").GetBoolean() && !truth.GetProperty("remark").GetString()!.Contains("either is right", StringComparison.Ordinal))
            {
                var sides = Size(smallest.GetProperty("size"));
                for (var axis = 0; axis < 3; axis++)
                {
                    boxes.Smallest.Size[axis].Should().BeApproximately(sides[axis], 2e-5 * (1 + sides[axis]));
                }
            }
        }
    }

    private static double Slack(JsonElement box, double size) =>
        (box.TryGetProperty("tolerance", out var known) ? known.GetDouble() : 1e-6) + (1e-7 * size) + 1e-5;

    private static void Sums(Model model, JsonElement truth)
    {
        model.Parts.Should().OnlyContain(part => part.Body.Closed == truth.GetProperty("closed").GetBoolean());
        if (truth.TryGetProperty("volume_mm3", out var volume) && volume.ValueKind == JsonValueKind.Number)
        {
            model.Parts.Sum(part => part.Count * part.Body.Moments!.Volume).Should().BeApproximately(volume.GetDouble(), volume.GetDouble() * 1e-6);
            model.Parts.Sum(part => part.Count * part.Body.Moments!.Area).Should().BeApproximately(truth.GetProperty("area_mm2").GetDouble(), truth.GetProperty("area_mm2").GetDouble() * 2e-6);
        }
        else if (!truth.TryGetProperty("repaired_volume_mm3", out _))
        {
            model.Parts.Should().OnlyContain(part => part.Body.Moments == null && part.Body.NoVolume.Length > 0);
        }

        if (model.Parts is [{ Body: MeshBody mesh }] && truth.TryGetProperty("open_edges", out var open))
        {
            mesh.OpenEdges.Should().Be(open.GetInt32());
            mesh.Oriented.Should().Be(truth.GetProperty("consistently_oriented").GetBoolean());
            mesh.SignedVolume.Should().BeApproximately(truth.GetProperty("signed_volume_mm3").GetDouble(), mesh.Closed && mesh.Oriented ? 0.01 : double.MaxValue, "of other meshes the sum depends on the origin");
            if (truth.TryGetProperty("repaired_volume_mm3", out var repaired))
            {
                mesh.Moments!.Volume.Should().BeApproximately(repaired.GetDouble(), 0.01);
                mesh.TurnedOver.Should().Be(truth.GetProperty("flipped_triangles").GetInt32());
            }
        }
    }

    private static void Names(Model model, JsonElement truth)
    {
        foreach (var (part, wanted) in Parts(model, truth))
        {
            if (wanted.TryGetProperty("count", out var count))
            {
                part.Count.Should().Be(count.GetInt32(), part.Name);
            }
        }

        if (model.Parts.Length == 1 && truth.TryGetProperty("product_name", out var name))
        {
            model.Parts[0].Name.Should().Be(name.GetString());
        }

        if (truth.TryGetProperty("instance_count", out var pieces))
        {
            model.Instances.Should().HaveCount(pieces.GetInt32());
        }
    }

    // In the file's order, or by name.
    private static IEnumerable<(ModelPart Part, JsonElement Truth)> Parts(Model model, JsonElement truth)
    {
        if (truth.TryGetProperty("parts", out var parts))
        {
            parts.GetArrayLength().Should().Be(model.Parts.Length);
            foreach (var wanted in parts.EnumerateArray())
            {
                yield return (model.Parts.Single(part => part.Name == wanted.GetProperty("name").GetString()), wanted);
            }
        }
        else if (truth.TryGetProperty("bodies", out var bodies))
        {
            bodies.GetArrayLength().Should().Be(model.Parts.Length);
            var number = 0;
            foreach (var wanted in bodies.EnumerateArray())
            {
                yield return (model.Parts[number++], wanted);
            }
        }
        else
        {
            yield return (model.Parts.Single(), truth);
        }
    }

    private static double[] Whole(Model model)
    {
        var sides = new double[3];
        Vec3[] axes = [new(1, 0, 0), new(0, 1, 0), new(0, 0, 1)];
        var instances = model.Instances.IsEmpty ? [.. model.Parts.Select((_, number) => new ModelInstance(number, "", Placing.None))] : model.Instances;
        for (var axis = 0; axis < 3; axis++)
        {
            var (low, high) = (double.PositiveInfinity, double.NegativeInfinity);
            foreach (var instance in instances)
            {
                // Seen from the part, the axis is turned back.
                var inner = instance.Placing.Back().Turn(axes[axis]);
                var shift = Vec3.Dot(instance.Placing.Origin, axes[axis]);
                high = Math.Max(high, model.Parts[instance.Part].Body.ReachAlong(inner).Most + shift);
                low = Math.Min(low, shift - model.Parts[instance.Part].Body.ReachAlong(-inner).Most);
            }

            sides[axis] = high - low;
        }

        return sides;
    }

    private static void Outlines(Model model, JsonElement outlines)
    {
        const double thickness = 10;
        model.Parts.Length.Should().Be(outlines.GetArrayLength());
        var found = model.Parts.OrderByDescending(part => part.Body.Moments!.Volume).ToList();
        var wanted = outlines.EnumerateArray().OrderByDescending(entry => entry.GetProperty("net_area").GetDouble()).ToList();
        for (var i = 0; i < found.Count; i++)
        {
            var (body, truth) = (found[i].Body, wanted[i]);
            body.Moments!.Volume.Should().BeApproximately(truth.GetProperty("net_area").GetDouble() * thickness, 1e-3);
            var net = truth.GetProperty("net_area").GetDouble();
            ((body.Moments.Area - (2 * net)) / thickness).Should().BeApproximately(truth.GetProperty("cut_length").GetDouble(), 1e-4);
            var given = body.BoxAlong(new(1, 0, 0), new(0, 1, 0), new(0, 0, 1)).Size;
            var box = Size(truth.GetProperty("box").GetProperty("size"));
            given.X.Should().BeApproximately(box[0], 2e-6);
            given.Y.Should().BeApproximately(box[1], 2e-6);
            given.Z.Should().Be(thickness);
            var standing = BoxSearch.Standing(body, new(0, 0, 1))!.Size;
            var smallest = truth.GetProperty("smallest_rectangle");
            (standing.X * standing.Y).Should().BeApproximately(smallest.GetProperty("area").GetDouble(), smallest.GetProperty("area").GetDouble() * 1e-6);
            standing.X.Should().BeApproximately(Size(smallest.GetProperty("size"))[0], 1e-4);
        }
    }

    private static double[] Size(JsonElement list) => [.. list.EnumerateArray().Select(value => value.GetDouble())];
}
