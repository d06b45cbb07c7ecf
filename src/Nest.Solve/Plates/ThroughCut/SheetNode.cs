namespace Nest.Solve.Plates.ThroughCut;

/// <summary>A node of a sheet's tree while it is being searched; sizes are inflated by one kerf.</summary>
internal struct SheetNode
{
    /// <summary>Kind and item: 0 and above an item's index; else one of the constants.</summary>
    public int Item;

    public const int Split = -1;
    public const int Rest = -2;

    /// <summary>Contains a keep-out; nothing may be placed here.</summary>
    public const int Dead = -3;
    public const int Unused = -4;

    public long Width;
    public long Height;
    public int Parent;
    public int FirstChild;
    public int Next;

    /// <summary>Of a Split: direction of its cuts.</summary>
    public byte Direction;
    public bool Turned;

    /// <summary>Root of a region of its own: never joined with what lies beside it.</summary>
    public bool Region;

    /// <summary>Of a Split: its stage, 1 at the root.</summary>
    public int Level;
}

/// <summary>Where and how a piece would be put.</summary>
/// <param name="Leaf">Node of the rest.</param>
/// <param name="Direction">Which cut comes first.</param>
/// <param name="Score">Change of the sum of squared usable rests; larger is better.</param>
internal readonly record struct Spot(int Leaf, byte Direction, double Score);
