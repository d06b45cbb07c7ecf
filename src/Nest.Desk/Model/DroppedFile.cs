namespace Nest.Desk.Model;

/// <summary>A file that was sent to a page. Its name is for messages and for its ending: it is never a path.</summary>
public sealed record DroppedFile(string Name, byte[] Bytes)
{
    private const int MostName = 80;

    /// <summary>A name that no folder can be left by: letters, figures, blanks, hyphens of the name, and its ending.</summary>
    public string SafeName
    {
        get
        {
            var ending = new string([.. Path.GetExtension(Name).Where(char.IsAsciiLetterOrDigit).Take(8)]);
            var stem = new string([.. Path.GetFileNameWithoutExtension(Path.GetFileName(Name)).Select(c => char.IsLetterOrDigit(c) || c is '-' or '_' or ' ' or '+' ? c : '-').Take(MostName)]).Trim(' ', '-');
            return $"{(stem.Length == 0 ? "file" : stem)}.{ending.ToLowerInvariant()}";
        }
    }
}
