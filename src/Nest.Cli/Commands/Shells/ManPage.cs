using System.Text;

namespace Nest.Cli.Commands.Shells;

/// <summary>The manual page, <c>nest(1)</c>, in the man macros that every Unix has.</summary>
internal static class ManPage
{
    private const string Help = "--help";

    private static readonly (int Code, string Meaning)[] Codes =
    [
        (ExitCode.Done, "Done."),
        (ExitCode.Usage, "The command line is wrong."),
        (ExitCode.InputRefused, "The input is refused; every error is told with file:row:column, and nothing is written."),
        (ExitCode.NotAllParts, "Not all parts can be cut; they are named with the reason, the rest is planned."),
        (ExitCode.CheckerRefused, "The checker refused the plan."),
        (ExitCode.InternalFault, "Internal fault."),
        (ExitCode.RackInUse, "Another program is changing the rack: try again."),
        (ExitCode.Surroundings, "Memory ran out and no file was changed; or all is done and written, but the screen or pipe took no more."),
        (ExitCode.BrokenOff, "Broken off with Ctrl-C: what is shown is what was found until then."),
    ];

    public static string Of(IReadOnlyList<CommandView> commands)
    {
        var text = new StringBuilder("""
            .TH NEST 1
            .SH NAME
            nest \- plan the sawing of a batch, with a proof of how cheap the plan is
            .SH SYNOPSIS
            .B nest
            .I command
            [\fIarguments\fR] [\fIoptions\fR]
            .SH DESCRIPTION
            """).Append('\n');
        text.Append(Plain(commands[0].Description)).Append($"\n.SH COMMANDS\nEvery command takes \\fB{Plain(Help)}\\fR.\n");
        foreach (var command in commands.Skip(1))
        {
            text.Append($".SS \"{Plain($"nest {command.Path} {string.Join(' ', command.Arguments.Select(argument => argument.Name))}".TrimEnd())}\"\n");
            text.Append(Plain(command.Description)).Append('\n');
            foreach (var (name, description) in command.Arguments)
            {
                text.Append($".TP\n.I {Plain(name)}\n{Plain(description)}\n");
            }

            foreach (var option in command.Options.Where(option => option.Names[0] != Help))
            {
                var value = option.Value.Length == 0 ? "" : $" \\fI{Plain(option.Value)}\\fR";
                text.Append($".TP\n\\fB{Plain(string.Join(", ", option.Names))}\\fR{value}\n{Plain(option.Description)}\n");
            }
        }

        text.Append(".SH EXIT STATUS\n");
        foreach (var (code, meaning) in Codes)
        {
            text.Append($".TP\n.B {code}\n{Plain(meaning)}\n");
        }

        return text.Append("""
            .SH ENVIRONMENT
            .TP
            .B NEST_RACK
            The file of the rack where a command names none; else rack.db in the present folder.
            .SH FILES
            A job is a file job.toml with the lists that it names. What is not said there comes from the default shop, which is built in:
            .B nest settings
            shows which.
            """).Append('\n').ToString();
    }

    /// <summary>Text as troff shows it: no escapes of its own, minus signs as typed, no line that begins with a macro.</summary>
    private static string Plain(string text)
    {
        var plain = text.Replace("\\", "\\e", StringComparison.Ordinal).Replace("-", "\\-", StringComparison.Ordinal).Replace("\"", "\\(dq", StringComparison.Ordinal);
        return plain.StartsWith('.') || plain.StartsWith('\'') ? "\\&" + plain : plain;
    }
}
