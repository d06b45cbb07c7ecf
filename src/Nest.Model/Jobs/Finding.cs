namespace Nest.Core.Jobs;

/// <summary>How bad a finding is.</summary>
public enum Severity
{
    /// <summary>Worth reading.</summary>
    Note,

    /// <summary>The input or the plan is refused.</summary>
    Error,
}

/// <summary>Where in the input a finding is; row and column count from 1, 0 where they don't apply.</summary>
public readonly record struct SourcePosition(string File, int Row = 0, int Column = 0)
{
    public override string ToString() => Row == 0 ? File : Column == 0 ? $"{File}:{Row}" : $"{File}:{Row}:{Column}";
}

/// <summary>One thing that is wrong with an input or a plan: which rule, where, what, and what to do.</summary>
/// <param name="Severity">Error or note.</param>
/// <param name="Rule">Short name of the rule, stable, in lower case with hyphens, e.g. <c>kerf-too-narrow</c>.</param>
/// <param name="Where">Position in the input, or what of a plan is meant.</param>
/// <param name="Message">What is wrong.</param>
/// <param name="Advice">What to do; may be empty for plans.</param>
public sealed record Finding(Severity Severity, string Rule, SourcePosition Where, string Message, string Advice = "")
{
    public override string ToString() => $"{Where}: {Message}{(Advice.Length == 0 ? "" : " — " + Advice)}";
}
