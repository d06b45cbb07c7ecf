using System.CommandLine;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Judge.Enumeration;
using Nest.Judge.Jobs;

namespace Nest.Judge.Runs;

/// <summary>Judges made jobs by a range of seeds, in blocks; a run that is broken off goes on where it was.</summary>
internal static class RunCommand
{
    private const int Block = 100;

    public static Command Create()
    {
        var from = new Option<int>("--from") { Required = true, Description = "First seed." };
        var to = new Option<int>("--to") { Required = true, Description = "Last seed." };
        var work = new Option<long>("--work") { DefaultValueFactory = _ => TinyRun.Work, Description = "Limit of work a job." };
        var small = new Option<bool>("--small") { Description = "Small jobs (5 to 12 pieces) instead of tiny ones." };
        var fussy = new Option<bool>("--fussy") { Description = "Tiny jobs with fuss and rules for parts." };
        var keeping = new Option<bool>("--keeping") { Description = "Fussy jobs of which a layout of an earlier plan stays." };
        var sections = new Option<bool>("--sections") { Description = "Tiny jobs of hex bar, tubes, angles, channels and tees." };
        var spares = new Option<bool>("--spares") { Description = "Tiny and fussy jobs that want free spares." };
        var settings = new Option<bool>("--settings") { Description = "Tiny jobs in which a setting of fence or stop has a price." };
        var shows = new Option<bool>("--show") { Description = "A line for each job." };
        var state = new Option<string?>("--state") { Description = "Folder that keeps what is done and each contradiction; a second run goes on there." };
        var first = new Option<bool>("--new") { Description = "Ends with 1 at the first contradiction that known.csv does not name." };
        var command = new Command("run", "Judges made jobs by their seeds.") { from, to, work, small, fussy, keeping, sections, spares, settings, shows, state, first };
        command.SetAction(parsed => new Shard(
            parsed.GetValue(work), parsed.GetValue(small), parsed.GetValue(fussy), parsed.GetValue(keeping), parsed.GetValue(sections), parsed.GetValue(spares), parsed.GetValue(settings), parsed.GetValue(shows), parsed.GetValue(state), parsed.GetValue(first)).Run(parsed.GetValue(from), parsed.GetValue(to)));
        return command;
    }

    private sealed class Shard(long work, bool small, bool fussy, bool keeping, bool sections, bool spares, bool settings, bool shows, string? state, bool first)
    {
        private readonly IReadOnlyDictionary<string, string> _known = first ? KnownJobs.Read() : new Dictionary<string, string>();

        public int Run(int from, int to)
        {
            var done = Done();
            var total = Tally.None;
            for (var start = from; start <= to; start += Block)
            {
                var last = Math.Min(to, start + Block - 1);
                if (!done.TryGetValue((start, last), out var tally))
                {
                    tally = Range(start, last);
                    Note(tally.Row(start, last));
                }

                total += tally;
                if (first && total.Wrong > 0)
                {
                    break;
                }
            }

            Console.WriteLine(Tally.Head);
            Console.WriteLine(total.Row(from, to));
            return total.Wrong > 0 ? 1 : 0;
        }

        private Tally Range(int from, int to)
        {
            var sum = Tally.None;
            for (var seed = from; seed <= to && !(first && sum.Wrong > 0); seed++)
            {
                sum += One(seed);
            }

            return sum;
        }

        private Tally One(int seed)
        {
            if (keeping)
            {
                return KeepingJobs.Make(seed, work) is { } around ? Judged(seed, around) : Tally.None;
            }

            var job = settings ? SettledJobs.Make(seed) : spares ? SpareJobs.Make(seed) : small ? SmallJobs.Make(seed) : fussy ? FussyJobs.Make(seed) : sections ? SectionJobs.Make(seed) : TinyJobs.Make(seed);
            return _known.ContainsKey(job.Name) ? Tally.None : Judged(seed, job);
        }

        private Tally Judged(int seed, Job job)
        {
            try
            {
                var verdict = settings ? SettledVerdict.Of(job, TinyRun.Limits(work)) : spares ? SparesVerdict.Of(job, TinyRun.Limits(work)).Verdict : Verdict.Of(job, TinyRun.Limits(work));
                List<string> wrong = [.. verdict.Wrong];
                // Every hundredth, of each class in turn.
                if (!keeping && !settings && seed % 100 == seed / 100 % 4 && verdict.Plan is { Layouts.IsEmpty: false })
                {
                    wrong.AddRange(FilesCheck.Run(job, work).Select(one => $"through files: {one}"));
                }

                if (shows || wrong.Count > 0)
                {
                    Console.WriteLine($"{seed} {TinyJobs.ClassOf(seed)} cost {verdict.Plan?.TotalCost.Amount} optimum {verdict.Optimum?.Amount} bound {verdict.Raw?.Amount} {verdict.Plan?.Status} {string.Join("; ", wrong)}");
                }

                if (wrong.Count > 0 && state is not null)
                {
                    Found.Keep(Path.Combine(state, "found"), job.Name, job, $"run --from {seed} --to {seed} --work {work}{(Kind.Length == 0 ? "" : " --" + Kind)}", wrong);
                }

                var planned = verdict.Plan is { Layouts.IsEmpty: false };
                return new(
                    1, planned ? 1 : 0, planned && verdict.Plan!.Status == SolveStatus.Proven ? 1 : 0,
                    planned && verdict.IsBest ? 1 : 0, 0, wrong.Count > 0 ? 1 : 0);
            }
            catch (TooLargeException fault)
            {
                if (shows)
                {
                    Console.WriteLine($"{seed} {TinyJobs.ClassOf(seed)} too large: {fault.Message}");
                }

                return Tally.None with { Jobs = 1, TooLarge = 1 };
            }
        }

        private string Kind => settings ? "settings" : spares ? "spares" : small ? "small" : keeping ? "keeping" : fussy ? "fussy" : sections ? "sections" : "";

        private string StateFile => Path.Combine(state!, $"{(Kind.Length == 0 ? "tiny" : Kind)}-work-{work}.csv");

        private Dictionary<(int From, int To), Tally> Done() => state is null || !File.Exists(StateFile)
            ? []
            : File.ReadAllLines(StateFile).Skip(1).Select(Tally.Parse).DistinctBy(row => (row.From, row.To)).ToDictionary(row => (row.From, row.To), row => row.Tally);

        private void Note(string row)
        {
            if (state is not null)
            {
                Directory.CreateDirectory(state);
                File.AppendAllText(StateFile, File.Exists(StateFile) ? row + "\n" : $"{Tally.Head}\n{row}\n");
            }
        }
    }
}
