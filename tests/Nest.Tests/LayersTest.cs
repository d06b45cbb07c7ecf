using System.Reflection;

namespace Nest.Tests;

/// <summary>Who may reference whom: the compiler keeps the checker away from the solver, this test keeps the compiler's borders.</summary>
public class LayersTest
{
    private static readonly Dictionary<string, string[]> Allowed = new(StringComparer.Ordinal)
    {
        ["Nest.Model"] = [],
        ["Nest.Check"] = ["Nest.Model"],
        ["Nest.Core"] = ["Nest.Model"],
        ["Nest.Solve"] = ["Nest.Model", "Nest.Core"],
        ["Nest.Data"] = ["Nest.Model", "Nest.Core"],
        ["Nest.Output"] = ["Nest.Model", "Nest.Core"],
        ["Nest.Rack"] = ["Nest.Model", "Nest.Core"],
        ["Nest.Planning"] = ["Nest.Model", "Nest.Check", "Nest.Core", "Nest.Solve", "Nest.Data", "Nest.Output"],
        ["Nest.Desk"] = ["Nest.Model", "Nest.Core", "Nest.Solve", "Nest.Data", "Nest.Output", "Nest.Rack", "Nest.Planning"],
        ["nest"] = ["Nest.Model", "Nest.Check", "Nest.Core", "Nest.Solve", "Nest.Data", "Nest.Output", "Nest.Rack", "Nest.Planning", "Nest.Desk"],
    };

    [Theory]
    [InlineData("Nest.Model")]
    [InlineData("Nest.Check")]
    [InlineData("Nest.Core")]
    [InlineData("Nest.Solve")]
    [InlineData("Nest.Data")]
    [InlineData("Nest.Output")]
    [InlineData("Nest.Rack")]
    [InlineData("Nest.Planning")]
    [InlineData("Nest.Desk")]
    [InlineData("nest")]
    public void Assemblies_use_only_what_they_may(string name) =>
        Assembly.Load(name).GetReferencedAssemblies().Select(reference => reference.Name!)
            .Where(reference => Allowed.ContainsKey(reference))
            .Should().BeSubsetOf(Allowed[name]);

    [Theory]
    [InlineData("Nest.Model")]
    [InlineData("Nest.Check")]
    [InlineData("Nest.Core")]
    public void Values_check_and_core_use_the_base_library_only(string name) =>
        Assembly.Load(name).GetReferencedAssemblies().Should().OnlyContain(reference =>
            reference.Name!.StartsWith("System", StringComparison.Ordinal) || Allowed[name].Contains(reference.Name));

    [Theory]
    [InlineData("Nest.Data", "Google.OrTools", "SkiaSharp", "Microsoft.Data.Sqlite")]
    [InlineData("Nest.Output", "Google.OrTools", "Microsoft.Data.Sqlite", "Tomlyn")]
    [InlineData("Nest.Rack", "Google.OrTools", "SkiaSharp", "CsvHelper", "Tomlyn", "QRCoder")]
    [InlineData("Nest.Solve", "SkiaSharp", "CsvHelper", "Tomlyn", "Microsoft.Data.Sqlite")]
    public void Each_outside_family_stays_in_its_project(string name, params string[] foreign) =>
        Assembly.Load(name).GetReferencedAssemblies().Select(reference => reference.Name).Should().NotContain(foreign);

    [Fact]
    public void No_type_of_the_solver_library_shows_in_public()
    {
        foreach (var name in Allowed.Keys)
        {
            var types = Assembly.Load(name).GetExportedTypes();
            foreach (var member in types.SelectMany(type => type.GetMembers()))
            {
                Shown(member).Should().NotContain(
                    type => type.Assembly.GetName().Name!.StartsWith("Google", StringComparison.Ordinal), "{0}.{1}", member.DeclaringType, member);
            }
        }
    }

    /// <summary>What the checker may call of the values, beside the properties that they are made from: the arithmetic of quantities, and
    /// sums of one line.</summary>
    private static readonly HashSet<string> Shared = new(StringComparer.Ordinal)
    {
        "Wholeness.Missing", "Rect.get_Area", "PartCost.get_Total", "Bound.get_Value", "Bound.get_Source",
    };

    /// <summary>Rules of the planner that stand at a quantity: the checker has its own.</summary>
    private static readonly HashSet<string> Rules = new(StringComparer.Ordinal)
    {
        "Angle.Along", "Angle.Taken", "Angle.RoundUp", "Angle.Through", "Angle.Slope", "Money.FromAmount", "Money.FromAmountDown", "Area.ShareOf",
        "Mass.Of",
    };

    /// <summary>The compiler keeps the checker away from all that makes plans, as its assembly sees values only; this keeps it away from what
    /// values work out for the planner (trims, the saw for a stock, sections, demands …), by the compiled code.</summary>
    [Fact]
    public void Check_takes_from_the_values_what_they_hold_and_not_what_they_work_out()
    {
        var check = Assembly.Load("Nest.Check");
        var calls = check.GetTypes().SelectMany(Bodies).SelectMany(Calls).Where(called => called.DeclaringType!.Assembly.GetName().Name == "Nest.Model").ToList();

        calls.Should().HaveCountGreaterThan(300, "else it is not read right");
        calls.Where(called => !IsHeld(called)).Select(Name).Distinct().Should().BeEmpty();
        Calls(typeof(LayersTest).GetMethod(nameof(Breaks), BindingFlags.NonPublic | BindingFlags.Static)!)
            .Where(called => called.DeclaringType!.Assembly.GetName().Name == "Nest.Model" && !IsHeld(called)).Select(Name)
            .Should().BeEquivalentTo(["Layout.get_Usable", "Saw.TrimsOn", "Money.FromAmount"], "the test sees what is not allowed");
    }

    private static object Breaks(Core.Plans.Layout layout, Core.Jobs.Saw saw, Core.Jobs.Stock stock) =>
        (layout.Usable, saw.TrimsOn(stock), Core.Quantities.Money.FromAmount(1), layout.Count, layout.Sheet.Area);

    private static bool IsHeld(MethodBase called)
    {
        if (Shared.Contains(Name(called)))
        {
            return true;
        }

        if (called.DeclaringType!.Namespace == "Nest.Core.Quantities")
        {
            return !Rules.Contains(Name(called));
        }

        var property = called.IsSpecialName ? called.DeclaringType.GetProperties().FirstOrDefault(one => one.GetMethod == called || one.SetMethod == called) : null;
        return called.IsConstructor || property is { CanWrite: true } || called.Name is "op_Equality" or "op_Inequality" or "Equals" or "GetHashCode" or "<Clone>$";
    }

    private static string Name(MethodBase called) => $"{called.DeclaringType!.Name}.{called.Name}";

    private static IEnumerable<MethodBase> Bodies(Type type)
    {
        const BindingFlags all = BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.Static | BindingFlags.Instance | BindingFlags.DeclaredOnly;
        return type.GetMethods(all).Cast<MethodBase>().Concat(type.GetConstructors(all));
    }

    // All methods named by call, callvirt, newobj and ldftn in a body. A byte that only looks like such an instruction gives a token that does
    // not resolve, or one more method to look at: never one too few.
    private static IEnumerable<MethodBase> Calls(MethodBase method)
    {
        var code = method.GetMethodBody()?.GetILAsByteArray() ?? [];
        for (var at = 0; at + 4 < code.Length; at++)
        {
            if (code[at] is 0x28 or 0x6F or 0x73 or 0x06 && Resolve(method, BitConverter.ToInt32(code, at + 1)) is { DeclaringType: not null } called)
            {
                yield return called;
            }
        }
    }

    private static MethodBase? Resolve(MethodBase method, int token)
    {
        // Definitions, references to other assemblies, and instances of generic methods.
        if (token >>> 24 is not (0x06 or 0x0A or 0x2B))
        {
            return null;
        }

        try
        {
            var type = method.DeclaringType!;
            return method.Module.ResolveMethod(
                token, type.IsGenericType ? type.GetGenericArguments() : null, method.IsGenericMethod ? method.GetGenericArguments() : null);
        }
        catch (Exception other) when (other is ArgumentException or BadImageFormatException or MissingMemberException)
        {
            return null;
        }
    }

    private static IEnumerable<Type> Shown(MemberInfo member) => member switch
    {
        MethodInfo method => method.GetParameters().Select(parameter => parameter.ParameterType).Append(method.ReturnType),
        ConstructorInfo constructor => constructor.GetParameters().Select(parameter => parameter.ParameterType),
        PropertyInfo property => [property.PropertyType],
        FieldInfo field => [field.FieldType],
        _ => [],
    };
}
