using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;

namespace Nest.Tests;

/// <summary>Who may reference whom: the compiler keeps the checker away from the solver, this test keeps the compiler's borders.</summary>
public class LayersTest
{
    private static readonly Dictionary<string, string[]> Allowed = new(StringComparer.Ordinal)
    {
        ["Nest.Core"] = [],
        ["Nest.Solve"] = ["Nest.Core"],
        ["Nest.Data"] = ["Nest.Core"],
        ["Nest.Output"] = ["Nest.Core"],
        ["Nest.Rack"] = ["Nest.Core"],
        ["Nest.Planning"] = ["Nest.Core", "Nest.Solve", "Nest.Data", "Nest.Output"],
        ["Nest.Desk"] = ["Nest.Core", "Nest.Solve", "Nest.Data", "Nest.Output", "Nest.Rack", "Nest.Planning"],
        ["nest"] = ["Nest.Core", "Nest.Solve", "Nest.Data", "Nest.Output", "Nest.Rack", "Nest.Planning", "Nest.Desk"],
    };

    [Theory]
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

    [Fact]
    public void Core_uses_the_base_library_only() =>
        Assembly.Load("Nest.Core").GetReferencedAssemblies().Should().OnlyContain(reference =>
            reference.Name!.StartsWith("System", StringComparison.Ordinal) || reference.Name == "netstandard");

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

    /// <summary>The checker shares no code with what it checks.</summary>
    [Fact]
    public void Check_uses_only_quantities_geometry_jobs_and_plans()
    {
        var files = Directory.GetFiles(Path.Combine(Sources(), "Nest.Core", "Check"), "*.cs");
        files.Should().HaveCountGreaterThan(8);
        foreach (var file in files)
        {
            var text = File.ReadAllText(file);
            var used = Regex.Matches(text, @"Nest\.(?:Core\.)?([A-Z]\w+)").Select(match => match.Groups[1].Value)
                .Where(word => word != "Core").Distinct();
            used.Should().BeSubsetOf(["Check", "Quantities", "Geometry", "Jobs", "Plans"], "{0} is independent", Path.GetFileName(file));
            // Helpers of the job that decide trims, saws and allowances: the plan checker works them out itself.
            if (!Path.GetFileName(file).StartsWith("Job", StringComparison.Ordinal))
            {
                new[] { "TrimsOn(", "SawFor(", ".Over(", "OffcutRuleFor(", "saw.Takes(", "DemandOf(", ".RateFor(", "layout.Usable", "IsLeftover" }
                    .Where(word => text.Contains(word, StringComparison.Ordinal))
                    .Should().BeEmpty("{0} is independent", Path.GetFileName(file));
            }
        }
    }

    /// <summary>The same by the compiled code: no method body of the checker calls into another folder.</summary>
    [Fact]
    public void Check_calls_no_other_folder_in_compiled_code()
    {
        var core = Assembly.Load("Nest.Core");
        var foreign = new[] { "Nest.Core.Blanks", "Nest.Core.Costing", "Nest.Core.Cutting" };
        const BindingFlags all = BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.Static | BindingFlags.Instance | BindingFlags.DeclaredOnly;
        var methods = core.GetTypes().Where(type => type.Namespace == "Nest.Core.Check").SelectMany(type => type.GetMethods(all)).ToArray();
        methods.Should().HaveCountGreaterThan(50);
        foreach (var method in methods)
        {
            foreach (var token in Tokens(method))
            {
                foreign.Should().NotContain(token.Namespace, "{0}.{1} is independent", method.DeclaringType, method.Name);
            }
        }
    }

    // Types of all members named by call, callvirt and newobj in a method body. A byte that only looks like such an
    // instruction gives a token that does not resolve, or one more type to look at: never one too few.
    private static IEnumerable<Type> Tokens(MethodInfo method)
    {
        var code = method.GetMethodBody()?.GetILAsByteArray() ?? [];
        for (var at = 0; at + 4 < code.Length; at++)
        {
            if (code[at] is 0x28 or 0x6F or 0x73 && Resolve(method.Module, BitConverter.ToInt32(code, at + 1)) is { } type)
            {
                yield return type;
            }
        }
    }

    private static Type? Resolve(Module module, int token)
    {
        // Only method definitions of this very assembly are of interest.
        if (token >>> 24 != 0x06)
        {
            return null;
        }

        try
        {
            return module.ResolveMethod(token)?.DeclaringType;
        }
        catch (ArgumentException)
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

    private static string Sources([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "src"));
}
