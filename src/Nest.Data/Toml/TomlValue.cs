using Nest.Core.Jobs;
using Tomlyn.Syntax;

namespace Nest.Data.Toml;

/// <summary>A value with the position of its key and its own.</summary>
internal sealed record TomlValue(ValueSyntax Syntax, SourcePosition KeyAt, SourcePosition At);
