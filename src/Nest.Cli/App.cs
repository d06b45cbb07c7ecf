using System.CommandLine;
using Nest.Cli.Commands;

namespace Nest.Cli;

/// <summary>From a line of arguments to an exit code.</summary>
internal static class App
{
    /// <summary>The commands together. Those that a line cannot mean get neither options nor action: they cost more than most commands do.</summary>
    /// <param name="line">The words that were typed; null: every command is built, as completion and the manual page need it.</param>
    public static RootCommand Root(World world, IReadOnlyList<string>? line = null)
    {
        var root = new RootCommand(ProgramHelp.About);
        foreach (var entry in CommandList.All)
        {
            var command = new Command(entry.Name, entry.Description);
            if (line is null || entry.IsMeantBy(line))
            {
                CommandList.Fill(command, world);
                NumberInput.On(command);
            }

            root.Add(command);
        }

        ProgramHelp.On(root);
        return root;
    }

    /// <summary>Runs the program on these arguments; returns the exit code.</summary>
    public static int Run(string[] args, World given)
    {
        var (screen, messages) = (Shown(given.Out), Shown(given.Error));
        var world = given with { Out = screen, Error = messages };
        var code = Attempt(args, world);
        screen.Flush();
        if (screen.Broken is { } why && code is ExitCode.Done or ExitCode.NotAllParts)
        {
            messages.WriteLine($"The results could not be shown in full: {why}. What was to be written to files is written.");
            return ExitCode.Surroundings;
        }

        return code;
    }

    private static ScreenWriter Shown(TextWriter writer) => writer as ScreenWriter ?? new ScreenWriter(writer);

    private static int Attempt(string[] args, World world)
    {
        try
        {
            if (args.Length == 0)
            {
                world.Error.WriteLine("""
                    Nest plans what a machine shop saws and buys. To begin:
                      nest new myshop             writes a job with comments: parts, prices, leftovers and saws to change
                      nest plan myshop/job.toml   plans it: what to print, to order and to cut
                      nest --help                 names all commands
                    """);
                return ExitCode.Usage;
            }

            if (ProgramHelp.IsAskedBy(args))
            {
                ProgramHelp.Write(world.Out, ProgramHelp.ScreenWidth);
                return ExitCode.Done;
            }

            return Command(args, world);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            world.Error.WriteLine($"error: a file could not be read or written: {fault.Message}");
            return ExitCode.InputRefused;
        }
        catch (Exception fault) when (IsMemory(fault))
        {
            world.Error.WriteLine("error: there is not enough memory for this — close other programs, take a limit of memory away (ulimit -v, DOTNET_GCHeapHardLimit), or plan fewer parts at a time; no file was changed");
            return ExitCode.Surroundings;
        }
#pragma warning disable CA1031 // The last line of defence: a fault of ours is reported in one line, without a stack trace.
        catch (Exception fault)
#pragma warning restore CA1031
        {
            world.Error.WriteLine($"Internal fault ({fault.GetType().Name}): {fault.Message}");
            world.Error.WriteLine("Nothing was written. Please report this with the job's files.");
            if (Environment.GetEnvironmentVariable("NEST_TRACE") == "1")
            {
                world.Error.WriteLine(fault.ToString());
            }

            return ExitCode.InternalFault;
        }
    }

    // Apart, so that help and the first words need none of the library that reads a line.
    private static int Command(string[] args, World world)
    {
        var parsed = Root(world, args).Parse(args);
        if (parsed.Errors.Count > 0)
        {
            foreach (var error in parsed.Errors)
            {
                world.Error.WriteLine(error.Message);
            }

            world.Error.WriteLine("Run 'nest --help' or 'nest <command> --help'.");
            return ExitCode.Usage;
        }

        return parsed.Invoke(new InvocationConfiguration
        {
            Output = world.Out, Error = world.Error, EnableDefaultExceptionHandler = false,
        });
    }

    /// <summary>Whether all that went wrong is that memory ran out, also on the threads of a search or inside the start of a type.</summary>
    private static bool IsMemory(Exception fault) => fault switch
    {
        OutOfMemoryException => true,
        AggregateException many => many.InnerExceptions.All(IsMemory),
        { InnerException: { } inner } => IsMemory(inner),
        _ => false,
    };
}
