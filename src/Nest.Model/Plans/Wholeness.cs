using System.Collections;
using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Globalization;
using System.Reflection;

namespace Nest.Core.Plans;

/// <summary>Looks for values that are missing though their type promises them: null where null is not allowed, a list that was never set,
/// null inside a list, a word that an enumeration does not have.</summary>
/// <remarks>A value that comes from a file, or from a program that did not set all of a record, may lack any of these; whoever works on it
/// afterwards need not ask at every step. Walks all properties that a record is made from, with a stack of its own, so that a tree of any
/// depth is walked. O(values).</remarks>
public static class Wholeness
{
    private static readonly ConcurrentDictionary<Type, Member[]> _members = new();

    /// <summary>Where the first missing value is, as in the plan file (<c>job.stocks[3].materialId</c>); null when nothing is missing.</summary>
    public static string? Missing(object root)
    {
        var open = new Stack<Step>([new(null, "", -1, root)]);
        while (open.TryPop(out var step))
        {
            foreach (var member in _members.GetOrAdd(step.Value.GetType(), MembersOf))
            {
                var value = member.Property.GetValue(step.Value);
                var here = new Step(step, member.Name, -1, value!);
                if (value is null)
                {
                    if (!member.MayBeNull)
                    {
                        return here.Path;
                    }
                }
                else if (IsUnknownWord(value) || member.IsUnset(value))
                {
                    return here.Path;
                }
                else if (value is IEnumerable list and not string)
                {
                    var at = 0;
                    foreach (var one in list)
                    {
                        var place = new Step(here, "", at++, one!);
                        if (one is null || IsUnknownWord(one))
                        {
                            return place.Path;
                        }

                        if (IsWalked(one.GetType()))
                        {
                            open.Push(place);
                        }
                    }
                }
                else if (IsWalked(value.GetType()))
                {
                    open.Push(here);
                }
            }
        }

        return null;
    }

    private static bool IsUnknownWord(object value) =>
        value is Enum word && !word.GetType().IsDefined(typeof(FlagsAttribute), inherit: false) && !Enum.IsDefined(word.GetType(), word);

    /// <summary>Records of this program; quantities and rectangles are numbers and cannot lack anything.</summary>
    private static bool IsWalked(Type type) =>
        !type.IsEnum && type.Namespace is { } name && name.StartsWith("Nest.", StringComparison.Ordinal)
        && name is not ("Nest.Core.Quantities" or "Nest.Core.Geometry");

    private static Member[] MembersOf(Type type)
    {
        var context = new NullabilityInfoContext();
        return
        [
            .. type.GetProperties(BindingFlags.Public | BindingFlags.Instance)
                .Where(property => property.CanWrite && property.GetIndexParameters().Length == 0)
                .Select(property => new Member(property, context.Create(property).ReadState != NullabilityState.NotNull)),
        ];
    }

    private sealed record Step(Step? Parent, string Name, int Index, object Value)
    {
        public string Path
        {
            get
            {
                var names = new List<string>();
                for (var step = this; step is { Parent: not null }; step = step.Parent)
                {
                    names.Add(step.Index >= 0 ? string.Create(CultureInfo.InvariantCulture, $"[{step.Index}]") : "." + step.Name);
                }

                names.Reverse();
                return string.Concat(names).TrimStart('.');
            }
        }
    }

    private sealed class Member(PropertyInfo property, bool mayBeNull)
    {
        private readonly PropertyInfo? _isDefault = ListOf(property.PropertyType)?.GetProperty(nameof(ImmutableArray<int>.IsDefault));

        public PropertyInfo Property { get; } = property;

        public string Name { get; } = char.ToLowerInvariant(property.Name[0]) + property.Name[1..];

        public bool MayBeNull { get; } = mayBeNull;

        /// <summary>Whether it is an immutable array that nobody set.</summary>
        public bool IsUnset(object value) => _isDefault is not null && (bool)_isDefault.GetValue(value)!;

        private static Type? ListOf(Type type)
        {
            var own = Nullable.GetUnderlyingType(type) ?? type;
            return own.IsGenericType && own.GetGenericTypeDefinition() == typeof(ImmutableArray<>) ? own : null;
        }
    }
}
