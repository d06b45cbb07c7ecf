using Nest.Core.Jobs;

namespace Nest.Data.Jobs;

/// <summary>The files that a job file names: they are looked for from its folder.</summary>
internal sealed class FilesBeside(string path, FindingList findings)
{
    /// <summary>A name in the job file, seen from where the program runs.</summary>
    public string Beside(string name) =>
        Path.GetDirectoryName(path) is { Length: > 0 } folder ? Path.Combine(folder, name) : name;

    /// <summary>Gives the text of a file that the job names, or says why there is none.</summary>
    public void WithText((string Text, SourcePosition At) file, string what, Action<string> use) => WithPath(file, what, at =>
    {
        if (TextFile.Read(at, what, findings) is { } text)
        {
            use(text);
        }
    });

    /// <summary>Gives the path of a file that the job names, or says that it is not there.</summary>
    public void WithPath((string Text, SourcePosition At) file, string what, Action<string> use)
    {
        if (file.Text.Trim().Length == 0)
        {
            findings.Error("file-missing", file.At, "the name of a file is empty", $"name {what}");
            return;
        }

        var at = Beside(file.Text);
        if (!Path.Exists(at))
        {
            // Where it is named is where it is mended.
            findings.Error("file-missing", file.At, $"{what}, '{file.Text}', is not there", TextFile.Nearby(at));
            return;
        }

        use(at);
    }
}
