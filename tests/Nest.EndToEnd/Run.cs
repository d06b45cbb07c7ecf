using Nest.Cli;

namespace Nest.EndToEnd;

/// <summary>Runs the whole program in-process in a folder of its own.</summary>
internal sealed class Run : IDisposable
{
    public string Folder { get; } = Directory.CreateTempSubdirectory("nest-e2e-").FullName;

    public string Out { get; private set; } = "";

    public string Error { get; private set; } = "";

    public int Nest(params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = App.Run(args, new(output, error, Quiet: true, TimeProvider.System, CancellationToken.None));
        Out = output.ToString();
        Error = error.ToString();
        return code;
    }

    public string Path(string name) => System.IO.Path.Combine(Folder, name);

    /// <summary>Writes a file into the folder; returns its path.</summary>
    public string Write(string name, string text)
    {
        File.WriteAllText(Path(name), text);
        return Path(name);
    }

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}
