using System.CommandLine;
using Nest.Judge.Jobs;

namespace Nest.Judge.Runs;

/// <summary>Writes the job of a seed as files, to look at it or to keep it.</summary>
internal static class WriteCommand
{
    public static Command Create()
    {
        var kind = new Option<string>("--kind") { DefaultValueFactory = _ => "tiny", Description = "tiny, settled, small or middle." };
        kind.AcceptOnlyFromAmong("tiny", "settled", "small", "middle");
        var seed = new Option<int>("--seed") { Required = true, Description = "Its seed." };
        var folder = new Option<string>("--out") { Required = true, Description = "Folder to write." };
        var command = new Command("write", "Writes the job of a seed as files.") { kind, seed, folder };
        command.SetAction(parsed =>
        {
            var number = parsed.GetValue(seed);
            JobFolder.Write(
                parsed.GetValue(kind) switch { "small" => SmallJobs.Make(number), "middle" => MiddleJobs.Make(number), "settled" => SettledJobs.Make(number), _ => TinyJobs.Make(number) },
                parsed.GetValue(folder)!);
        });
        return command;
    }
}
