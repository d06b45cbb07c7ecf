using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;
using Nest.Cli.Commands;

namespace Nest.Cli;

/// <summary>The help of the program itself, written from the list of commands: no command is built for it, and a short line finds it without the
/// library that reads lines.</summary>
internal static class ProgramHelp
{
    public const string About = "Nest plans what a machine shop saws and buys: blanks, plates and bars, layouts, the order of cuts and the cost,\n"
        + "with a proven bound on how much cheaper any plan could be.";

    /// <summary>No description is squeezed into less.</summary>
    private const int LeastText = 30;

    /// <summary>Columns of the screen; where the help goes into a file or pipe no line is broken.</summary>
    public static int ScreenWidth => Console.IsOutputRedirected ? int.MaxValue : Console.WindowWidth;

    /// <summary>Whether a line asks for this help and for nothing else.</summary>
    public static bool IsAskedBy(string[] args) => args is ["--help" or "-h" or "-?"];

    /// <summary>Any other line that asks for it gets the same text.</summary>
    public static void On(RootCommand root)
    {
        foreach (var option in root.Options)
        {
            if (option is HelpOption { Action: HelpAction usual })
            {
                option.Action = new OwnText(usual);
            }
        }
    }

    /// <param name="width">Columns that a line may take.</param>
    public static void Write(TextWriter writer, int width)
    {
        writer.WriteLine("Description:");
        foreach (var line in About.Split('\n'))
        {
            Row(writer, "", 0, line, width);
        }

        writer.WriteLine("\nUsage:\n  nest [command] [options]\n\nOptions:");
        Row(writer, "-?, -h, --help", 14, "Show this, or the help of a command: nest plan --help", width);
        Row(writer, "--version", 14, "Show version information", width);
        writer.WriteLine("\nCommands:");
        var longest = 0;
        foreach (var entry in CommandList.All)
        {
            longest = Math.Max(longest, Line(entry).Length);
        }

        foreach (var entry in CommandList.All)
        {
            Row(writer, Line(entry), longest, entry.Description, width);
        }

        writer.WriteLine();
    }

    private static string Line(CommandEntry entry) => entry.Takes.Length == 0 ? entry.Name : $"{entry.Name} {entry.Takes}";

    /// <summary>A term and its text beside it, broken between words.</summary>
    private static void Row(TextWriter writer, string term, int column, string text, int width)
    {
        var (begin, room) = (column == 0 ? "  " : $"  {term.PadRight(column)}  ", Math.Max(LeastText, width - column - 4));
        while (text.Length > room)
        {
            var at = text.LastIndexOf(' ', room);
            at = at > 0 ? at : room;
            writer.WriteLine(begin + text[..at]);
            (begin, text) = (new string(' ', begin.Length), text[at..].TrimStart());
        }

        writer.WriteLine(begin + text);
    }

    private sealed class OwnText(HelpAction usual) : SynchronousCommandLineAction
    {
        public override int Invoke(ParseResult parseResult)
        {
            if (parseResult.CommandResult.Command is not RootCommand)
            {
                return usual.Invoke(parseResult);
            }

            Write(parseResult.InvocationConfiguration.Output, ScreenWidth);
            return ExitCode.Done;
        }

        public override bool ClearsParseErrors => usual.ClearsParseErrors;
    }
}
