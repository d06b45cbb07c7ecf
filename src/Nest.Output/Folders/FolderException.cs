namespace Nest.Output.Folders;

/// <summary>A plan's folder cannot be written as asked: what is wrong and what to do, for the user. The folder holds what it held.</summary>
public sealed class FolderException : IOException
{
    /// <summary>Without a word of what is wrong.</summary>
    public FolderException()
    {
    }

    /// <summary>With what is told to the user.</summary>
    /// <param name="message">What is wrong and what to do.</param>
    public FolderException(string message)
        : base(message)
    {
    }

    /// <summary>As above, with what caused it.</summary>
    public FolderException(string message, Exception inner)
        : base(message, inner)
    {
    }
}
