using System.Collections.Immutable;
using System.Text.Json;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Rack.Plans;

/// <summary>What the rack keeps of a blank for several parts: how they lie in it, and which they are. So parts that came from gang blanks count as parts, whatever number a
/// later plan takes from each blank.</summary>
/// <param name="Members">Part, pieces in each blank, pieces wanted altogether with those that earlier plans made.</param>
internal sealed record StoredGang(int Rows, int Columns, Length Gap, ImmutableArray<(string Part, int Count, int Asked)> Members)
{
    /// <param name="serving">What earlier plans made of each part, by its name in the job.</param>
    /// <returns>Null: each of its blanks is one part.</returns>
    public static StoredGang? Of(Part part, Dictionary<string, int> serving) => part.Gang is not { } gang ? null
        : new(gang.Rows, gang.Columns, part.PerBlank?.Gap ?? Length.Zero,
            [.. gang.Members.Select(member => (member.Part, member.Count, member.Asked + serving.GetValueOrDefault(member.Part)))]);

    /// <summary>What comes out of one blank; of a blank for one part that part.</summary>
    public static ImmutableArray<(string Part, int Count, int Asked)> MembersOf(string blank, StoredGang? gang, int asked) => gang?.Members ?? [(blank, 1, asked)];

    /// <summary>The job with its parts as the list names them, in place of the blanks that a plan made of them.</summary>
    public static Job Named(Job job)
    {
        var names = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        return job with
        {
            Parts =
            [
                .. job.Parts.SelectMany(part => part.Gang is not { } gang ? [part]
                    : gang.Members.Where(member => names.Add(member.Part)).Select(member => part with { Id = member.Part, Gang = null, Quantity = 0, Extra = member.Asked, ExtraPercent = null })),
            ],
        };
    }

    /// <summary>The part, to be milled so many at once.</summary>
    public Part From(Part part) => part with
    {
        PerBlank = new() { Counts = [Rows * Columns], Gap = Gap },
        Gang = new() { Rows = Rows, Columns = Columns, Blanks = 1, Members = [.. Members.Select(member => new GangMember(member.Part, member.Count, member.Asked))] },
    };

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject("gang");
        json.WriteNumber("rows", Rows);
        json.WriteNumber("columns", Columns);
        json.WriteNumber("gap", Gap.Nanometres);
        json.WriteStartArray("members");
        foreach (var (part, count, asked) in Members)
        {
            json.WriteStartObject();
            json.WriteString("part", part);
            json.WriteNumber("count", count);
            json.WriteNumber("asked", asked);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    public static StoredGang? Read(JsonElement demand) => !demand.TryGetProperty("gang", out var gang) ? null : new(
        gang.GetProperty("rows").GetInt32(), gang.GetProperty("columns").GetInt32(), Length.FromNanometres(gang.GetProperty("gap").GetInt64()),
        [.. gang.GetProperty("members").EnumerateArray().Select(one => (one.GetProperty("part").GetString()!, one.GetProperty("count").GetInt32(), one.GetProperty("asked").GetInt32()))]);
}
