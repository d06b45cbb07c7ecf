namespace Nest.Output.Folders;

/// <summary>A plan's folder cannot be written as asked: what is wrong and what to do, for the user. The folder holds what it held.</summary>
public sealed class FolderException : IOException
{
    public FolderException()
    {
    }

    public FolderException(string message)
        : base(message)
    {
    }

    public FolderException(string message, Exception inner)
        : base(message, inner)
    {
    }
}
