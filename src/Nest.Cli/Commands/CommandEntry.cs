namespace Nest.Cli.Commands;

/// <summary>What the help of the program says of a command, and all that is known of it before somebody asks for it.</summary>
/// <param name="Takes">Its arguments as the help names them; empty: none.</param>
internal sealed record CommandEntry(string Name, string Takes, string Description)
{
    /// <summary>Whether a line may mean this command: its name is among the words, or words that stand elsewhere (<c>@FILE</c>, <c>[…]</c>) may hold it.</summary>
    public bool IsMeantBy(IReadOnlyList<string> line)
    {
        foreach (var word in line)
        {
            if (word == Name || word.StartsWith('@') || word.StartsWith('['))
            {
                return true;
            }
        }

        return false;
    }
}
