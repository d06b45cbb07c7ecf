namespace Nest.Core.Jobs;

/// <summary>One of several jobs that are planned as one: their parts come from the same stock, and their layouts are shared.</summary>
/// <param name="Name">In front of the names of its parts: part <c>arm</c> of <c>lamp</c> is <c>lamp/arm</c>.</param>
/// <param name="Sets">Sets of its parts that are made; the quantities of its parts are for all of them.</param>
public sealed record SharedJob(string Name, int Sets)
{
    /// <summary>The part's name among the parts of all jobs.</summary>
    public string NameOf(string part) => $"{Name}/{part}";

    /// <summary>Whether a part of this name is one of its own.</summary>
    public bool Owns(string part) => part.StartsWith(Name + "/", StringComparison.Ordinal);
}
