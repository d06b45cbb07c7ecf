using Nest.Cli;
using Nest.Rack;

namespace Nest.Tests.Rack;

/// <summary>The whole program on a rack of its own, as a person types it.</summary>
internal sealed class RackConsole : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("nest-rack-").FullName;
    private StringWriter output = new();
    private StringWriter error = new();

    /// <summary>What the last command answered.</summary>
    public string Output => output.ToString();

    /// <summary>What the last command said beside its answer.</summary>
    public string Error => error.ToString();

    public string In(string name) => Path.Combine(folder, name);

    public RackStore Open() => RackStore.Open(In("rack.db"));

    /// <summary>Runs a command that must succeed; words that hold a blank are given apart.</summary>
    public string Good(string command, params string[] more)
    {
        Run(command, more).Should().Be(ExitCode.Done, $"{command} {string.Join(' ', more)}: {Error}");
        return Output;
    }

    /// <summary>Runs a command that must be refused and say so.</summary>
    public void Refused(string command, params string[] more)
    {
        Run(command, more).Should().BeOneOf([ExitCode.InputRefused, ExitCode.Usage], $"{command} {string.Join(' ', more)}: {Output}");
        Error.Should().NotBeEmpty().And.NotContain("System.").And.NotContain("   at ");
    }

    public int Run(string command, params string[] more)
    {
        output.Dispose();
        error.Dispose();
        (output, error) = (new(), new());
        var words = command.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return App.Run([words[0], "--rack", In("rack.db"), .. words[1..], .. more], new World(output, error, true, TimeProvider.System, CancellationToken.None));
    }

    /// <summary>Enters a piece and gives back its mark.</summary>
    public string Add(string what) => Good($"rack add {what} --value 20").Trim();

    public void Dispose()
    {
        output.Dispose();
        error.Dispose();
        Directory.Delete(folder, recursive: true);
    }
}
