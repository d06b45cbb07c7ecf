namespace Nest.Output.Fonts;

/// <summary>The embedded faces that texts are set in.</summary>
public enum Face
{
    /// <summary>Of plain text.</summary>
    Regular,

    /// <summary>Of headings, and of what must be found at once.</summary>
    Bold,

    /// <summary>All figures and letters equally wide.</summary>
    Mono,
}
