namespace Nest.Output.Fonts;

/// <summary>The embedded faces that texts are set in.</summary>
public enum Face
{
    Regular,
    Bold,

    /// <summary>All figures and letters equally wide.</summary>
    Mono,
}
