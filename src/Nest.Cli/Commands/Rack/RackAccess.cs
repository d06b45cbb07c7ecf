using System.CommandLine;
using System.Globalization;
using Nest.Core.Quantities;
using Nest.Rack;
using Nest.Rack.Database;

namespace Nest.Cli.Commands.Rack;

/// <summary>What all commands of the rack share: which rack, how long to wait, which unit, and how its refusals are reported.</summary>
internal sealed class RackAccess
{
    private readonly World world;

    public RackAccess(World world) => this.world = world;

    public World World => world;

    public Option<string?> File { get; } = new("--rack")
    {
        Description = "The rack's file. Default: the environment's NEST_RACK, else rack.db in this folder.", HelpName = "FILE", Recursive = true,
    };

    public Option<double> Wait { get; } = new("--wait")
    {
        Description = "Seconds to wait while another program writes.", HelpName = "N", DefaultValueFactory = _ => 10, Recursive = true,
    };

    public Option<string> Unit { get; } = UnitOption();

    /// <summary>Adds the shared options to a command.</summary>
    public Command On(Command command)
    {
        command.Add(File);
        command.Add(Wait);
        command.Add(Unit);
        return command;
    }

    public LengthFormat Format(ParseResult parsed) => LengthFormat.For(UnitOf(parsed), 0);

    public LengthUnit UnitOf(ParseResult parsed) => parsed.GetValue(Unit) == "in" ? LengthUnit.Inch : LengthUnit.Millimetre;

    public DateOnly Today => DateOnly.FromDateTime(world.Time.GetLocalNow().DateTime);

    /// <summary>Opens the rack and does the work; a refusal becomes one line and an exit code.</summary>
    /// <param name="creates">Whether a rack that is not there is created; commands that only read say that there is none.</param>
    public int Run(ParseResult parsed, bool creates, Func<RackStore, int> work)
    {
        var path = parsed.GetValue(File) ?? Usual;
        try
        {
            if (!creates && !System.IO.File.Exists(path))
            {
                throw new RackException(RackFault.NotARack, $"there is no rack {path}", "name it with --rack, or begin one with 'nest rack add' or 'nest rack import'");
            }

            if (System.IO.File.Exists(path) && new FileInfo(path).Length == 0)
            {
                throw new RackException(RackFault.NotARack, $"{path} is empty, so it is no rack", "name the rack's file; where this is what is left of it, put a copy in its place");
            }

            var begins = !System.IO.File.Exists(path);
            using var store = RackStore.Open(path, new RackOptions { Wait = TimeSpan.FromSeconds(parsed.GetValue(Wait)), Clock = world.Time });
            var exit = work(store);
            if (begins && exit == ExitCode.Done)
            {
                world.Error.WriteLine($"note: there was no rack {path}, so it was begun; marks are given anew from the first one on");
            }

            return exit;
        }
        catch (RackException fault)
        {
            return Report(fault);
        }
    }

    public int Report(RackException fault)
    {
        Error(fault.Message, fault.Advice);
        return fault.Fault == RackFault.InUse ? ExitCode.RackInUse : ExitCode.InputRefused;
    }

    public int Refuse(string message, string advice)
    {
        Error(message, advice);
        return ExitCode.InputRefused;
    }

    /// <summary>What a command that is shown to the user needs so that it means this rack.</summary>
    public static string Named(RackStore store) => store.Path == Usual ? "" : store.Path.Contains(' ', StringComparison.Ordinal) ? $" --rack \"{store.Path}\"" : $" --rack {store.Path}";

    // An empty variable is as good as none (and to SQLite an empty name means a rack that is gone with the program).
    private static string Usual => Environment.GetEnvironmentVariable("NEST_RACK") is { Length: > 0 } named ? named : "rack.db";

    public void Say(string line) => world.Out.WriteLine(line);

    /// <summary>Says what was changed, and how to take it back.</summary>
    public void Changed(RackStore store, string line)
    {
        Say(line);
        if (store.History(1) is [var newest, ..])
        {
            world.Error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"change {newest.Id}; 'nest rack undo {newest.Id}{Named(store)}' takes it back"));
        }
    }

    private void Error(string message, string advice) =>
        world.Error.WriteLine($"error: {message}{(advice.Length == 0 ? "" : " — " + advice)}");

    private static Option<string> UnitOption()
    {
        var unit = new Option<string>("--unit") { Description = "Unit of sizes without one, and of what is shown.", DefaultValueFactory = _ => "mm", Recursive = true };
        unit.AcceptOnlyFromAmong("mm", "in");
        return unit;
    }
}
