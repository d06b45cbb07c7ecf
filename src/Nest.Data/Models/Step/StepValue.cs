namespace Nest.Data.Models.Step;

internal enum StepKind
{
    /// <summary>$ or *: nothing given.</summary>
    Unset,
    Number,
    Text,

    /// <summary>.T. and the like.</summary>
    Word,

    /// <summary>#12.</summary>
    Reference,
    List,

    /// <summary>NAME(…) within parameters.</summary>
    Typed,
}

/// <summary>A parameter of an entity.</summary>
internal sealed record StepValue(StepKind Kind, double Number = 0, string Text = "", StepValue[]? Items = null)
{
    public static readonly StepValue Unset = new(StepKind.Unset);
}

/// <summary>One of an entity's names with its parameters; a complex entity has several.</summary>
internal sealed record StepPart(string Name, StepValue[] Values);

/// <summary>An entity: #number = NAME(…) or (A(…) B(…)).</summary>
internal sealed record StepEntity(int Number, StepPart[] Parts)
{
    public string Name => Parts[0].Name;

    public StepPart? Part(string name) => Array.Find(Parts, part => part.Name == name);

    public bool Is(string name) => Part(name) is not null;
}
