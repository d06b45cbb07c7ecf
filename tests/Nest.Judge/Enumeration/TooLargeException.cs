namespace Nest.Judge.Enumeration;

/// <summary>The job is too large, or of a kind that is not enumerated.</summary>
public sealed class TooLargeException(string message) : Exception(message);
