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
    private RackStore? open;

    public RackAccess(World world) => this.world = world;

    public World World => world;

    public Option<string?> File { get; } = new("--rack")
    {
        Description = "The rack's file. Default: the environment's NEST_RACK, else rack.db in this folder.", HelpName = "FILE", Recursive = true,
    };

    public Option<double> Wait { get; } = new Option<double>("--wait")
    {
        Description = "Seconds to wait while another program writes.", HelpName = "N", DefaultValueFactory = _ => 10, Recursive = true,
    }.From0To(3600);

    public Option<string?> Unit { get; } = UnitOption();

    /// <summary>Adds the shared options to a command.</summary>
    public void On(Command command) => command.With(File, Wait, Unit);

    public LengthFormat Format(ParseResult parsed) => LengthFormat.For(UnitOf(parsed), 0);

    /// <summary>Unit as asked, else as the rack remembers it.</summary>
    public LengthUnit UnitOf(ParseResult parsed) => (parsed.GetValue(Unit) ?? Remembered(parsed, store => store.Unit)) == "in" ? LengthUnit.Inch : LengthUnit.Millimetre;

    /// <summary>What a rack that is there remembers; null where there is none or it cannot be read, which the command itself then says.</summary>
    public T? Remembered<T>(ParseResult parsed, Func<RackStore, T?> what)
        where T : class
    {
        if (open is not null)
        {
            return what(open);
        }

        var path = parsed.GetValue(File) ?? Usual;
        if (!System.IO.File.Exists(path) || new FileInfo(path).Length == 0)
        {
            return null;
        }

        try
        {
            using var store = RackStore.Open(path, new RackOptions { Wait = TimeSpan.FromSeconds(parsed.GetValue(Wait)), Clock = world.Time });
            return what(store);
        }
        catch (RackException)
        {
            return null;
        }
    }

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
            open = store;
            int exit;
            try
            {
                exit = work(store);
            }
            finally
            {
                // What is asked after a refusal must not ask a rack that is closed.
                open = null;
            }

            if (begins && exit == ExitCode.Done)
            {
                if (parsed.GetValue(Unit) is { } unit)
                {
                    store.SetUnit(unit);
                }

                world.Error.WriteLine($"note: there was no rack {path}, so it was begun; marks are given anew from the first one on");
            }

            return exit;
        }
        catch (RackException fault)
        {
            return Report(fault, Format(parsed));
        }
    }

    /// <param name="format">Of lengths; null: exact, in millimetres.</param>
    public int Report(RackException fault, LengthFormat? format = null)
    {
        Error(format is { } shop ? fault.MessageIn(shop) : fault.Message, fault.Advice);
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

    private static Option<string?> UnitOption()
    {
        var unit = new Option<string?>("--unit") { Description = "Unit of sizes without one, and of what is shown. Default: the rack's ('nest rack unit'), else mm.", Recursive = true };
        unit.AcceptOnlyFromAmong("mm", "in");
        return unit;
    }
}
