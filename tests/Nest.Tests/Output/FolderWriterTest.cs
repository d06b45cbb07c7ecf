using System.Text;
using Nest.Core.Jobs;
using Nest.Output.Folders;

namespace Nest.Tests.Output;

/// <summary>A folder is of one plan or of another, never of two, whenever and however often a run is ended.</summary>
public sealed class FolderWriterTest : IDisposable
{
    private static readonly string[] OldNames = ["cut-sheet.pdf", "data/plan.json", "orders/01-a.pdf", "orders/02-b.pdf", "pictures/layout-001.png", "pictures/layout-002.png"];
    private static readonly string[] NewNames = ["cut-sheet.pdf", "data/plan.json", "orders/01-c.pdf", "pictures/layout-001.png", "tablet.html"];

    private readonly string _root = Directory.CreateTempSubdirectory("nest-folder-").FullName;

    private string Folder => Path.Combine(_root, "out");

    [Fact]
    public void A_run_that_is_ended_at_any_step_leaves_files_of_one_plan_and_the_next_command_makes_it_whole()
    {
        Write(Folder, "OLD", OldNames);
        File.WriteAllText(Path.Combine(Folder, "orders", "notes.txt"), "mine");
        // What a kill would leave at each step: a copy of the folder as it is then.
        var steps = new List<string>();
        Write(Folder, "NEW", NewNames, step =>
        {
            Copy(Folder, Path.Combine(_root, $"ended-{steps.Count}"));
            steps.Add(step);
        });
        steps.Should().Contain(["stage", "list", "ready", "old list", "delete orders/02-b.pdf", "deleted", "move tablet.html", "new list", "done"]).And.HaveCountGreaterThan(20);

        var (olds, news) = (0, 0);
        for (var at = 0; at < steps.Count; at++)
        {
            var ended = Path.Combine(_root, $"ended-{at}");
            var seen = Seen(ended).Select(file => file.Text).Distinct().ToList();
            seen.Should().HaveCountLessThanOrEqualTo(1, "before the step '{0}' the folder shows one plan", steps[at]);

            // The next command: it goes on where it can, else the old plan is there, whole.
            FolderWriter.Complete(ended);
            if (FileList.In(ended)!.Plan == "OLD")
            {
                Is(ended, "OLD", OldNames);
                olds++;
            }
            else
            {
                Is(ended, "NEW", NewNames);
                news++;
            }

            FolderCheck.Of(ended, FileList.In(ended)!.Plan, "data/plan.json").Should().BeEmpty();
            File.ReadAllText(Path.Combine(ended, "orders", "notes.txt")).Should().Be("mine");
            // And the next run does not stumble over what is left.
            Write(ended, "THIRD", OldNames);
            Is(ended, "THIRD", OldNames);
            Directory.EnumerateFileSystemEntries(ended, ".*").Should().BeEmpty();
            Directory.EnumerateFileSystemEntries(ended, ".nest-*", SearchOption.AllDirectories).Should().BeEmpty("step '{0}'", steps[at]);
        }

        olds.Should().BePositive();
        news.Should().BePositive();
    }

    [Fact]
    public void A_run_that_is_ended_while_it_completes_another_is_completed_too()
    {
        Write(Folder, "OLD", OldNames);
        var broken = Path.Combine(_root, "broken");
        Write(Folder, "NEW", NewNames, step =>
        {
            if (step == "deleted")
            {
                Copy(Folder, broken);
            }
        });
        for (var at = 0; ; at++)
        {
            var again = Path.Combine(_root, $"again-{at}");
            Copy(broken, again);
            var count = 0;
            var ended = Path.Combine(_root, $"ended-{at}");
            var writer = FolderWriter.For(again, _ =>
            {
                if (count++ == at)
                {
                    Copy(again, ended);
                }
            });
            writer.Write("NEXT", Makers("NEXT", NewNames));
            if (!Directory.Exists(ended))
            {
                at.Should().BeGreaterThan(8);
                return;
            }

            Seen(ended).Select(file => file.Text).Distinct().Should().HaveCountLessThanOrEqualTo(1);
            FolderWriter.Complete(ended);
            Is(ended, FileList.In(ended)!.Plan, NewNames);
        }
    }

    [Fact]
    public void Runs_at_the_same_time_leave_the_folder_to_one_of_them()
    {
        Parallel.For(0, 24, new ParallelOptions { MaxDegreeOfParallelism = 6 }, run => Write(Folder, $"RUN{run}", run % 2 == 0 ? OldNames : NewNames));

        var plan = FileList.In(Folder)!.Plan;
        Is(Folder, plan, int.Parse(plan[3..], System.Globalization.CultureInfo.InvariantCulture) % 2 == 0 ? OldNames : NewNames);
        Directory.EnumerateFileSystemEntries(Folder, ".*").Should().BeEmpty();
    }

    [Fact]
    public void A_second_run_waits_and_then_says_so()
    {
        Write(Folder, "OLD", OldNames);
        Write(Folder, "NEW", NewNames, step =>
        {
            if (step == "ready")
            {
                var other = () => FolderWriter.For(Folder, wait: TimeSpan.FromMilliseconds(60)).Write("OTHER", Makers("OTHER", OldNames));
                other.Should().Throw<FolderException>().WithMessage("*another run writes*");
            }
        });
        Is(Folder, "NEW", NewNames);
    }

    [Theory]
    [InlineData("cut-sheet.pdf")]
    [InlineData("pictures/layout-001.png")]
    [InlineData("data/plan.json")]
    public void Files_that_no_list_names_are_neither_replaced_nor_deleted(string name)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(Path.Combine(Folder, name))!);
        File.WriteAllText(Path.Combine(Folder, name), "mine");

        var write = () => Write(Folder, "NEW", NewNames);

        write.Should().Throw<FolderException>().WithMessage($"*{name}*");
        Directory.GetFiles(Folder, "*", SearchOption.AllDirectories).Select(path => Path.GetFileName(path)).Where(file => file != ".lock").Should().Equal(Path.GetFileName(name));
        File.ReadAllText(Path.Combine(Folder, name)).Should().Be("mine");
    }

    [Theory]
    [InlineData("../outside.txt")]
    [InlineData("/outside.txt")]
    [InlineData("a/../../outside.txt")]
    [InlineData("C:\\outside.txt")]
    public void A_list_that_names_files_elsewhere_is_no_list(string name)
    {
        Write(Folder, "OLD", OldNames);
        var outside = Path.Combine(_root, "outside.txt");
        File.WriteAllText(outside, "mine");
        var path = Path.Combine(Folder, FileList.Place);
        File.WriteAllText(path, File.ReadAllText(path).Replace("cut-sheet.pdf", name, StringComparison.Ordinal));

        FileList.In(Folder).Should().BeNull();
        var write = () => Write(Folder, "NEW", NewNames);

        write.Should().Throw<FolderException>();
        File.ReadAllText(outside).Should().Be("mine");
    }

    [Fact]
    public void A_fault_while_files_are_made_changes_nothing()
    {
        Write(Folder, "OLD", OldNames);
        foreach (var fault in new Exception[] { new IOException("No space left on device"), new InvalidOperationException("ours") })
        {
            FileMaker[] makers = [.. Makers("NEW", NewNames), () => throw fault];
            var write = () => FolderWriter.For(Folder).Write("NEW", makers);
            write.Should().Throw<Exception>();
            Is(Folder, "OLD", OldNames);
        }

        var refused = () => FolderWriter.For(Folder).Write("NEW", Makers("NEW", NewNames), verify: _ => throw new FolderException("does not read back"));
        refused.Should().Throw<FolderException>().WithMessage("does not read back");
        Is(Folder, "OLD", OldNames);
        Directory.EnumerateFileSystemEntries(Folder, ".*").Should().BeEmpty();
    }

    [Fact]
    public void A_plan_that_is_in_use_is_replaced_only_when_that_is_asked_for()
    {
        Write(Folder, "OLD", OldNames);
        InUse.Add(Folder, "2026-11-28 reserved as P1 on rack.db").Should().BeTrue();
        InUse.Add(Folder, "2026-11-29 ordered").Should().BeTrue();

        var write = () => Write(Folder, "NEW", NewNames);
        write.Should().Throw<FolderException>().WithMessage("*reserved as P1*ordered*--replace*");
        Is(Folder, "OLD", OldNames, InUse.Name);

        FolderWriter.For(Folder).Write("NEW", Makers("NEW", NewNames), replace: true);
        Is(Folder, "NEW", NewNames);
        InUse.Of(Folder).Should().BeEmpty();
        InUse.Add(_root, "no plan here").Should().BeFalse();
    }

    [Fact]
    public void Mixed_and_changed_folders_are_told()
    {
        Write(Folder, "OLD", OldNames);
        FolderCheck.Of(Folder, "OLD", "data/plan.json").Should().BeEmpty();
        FolderCheck.Of(Folder, "NEW", "data/plan.json").Should().ContainSingle().Which.Message.Should().Contain("plan NEW").And.Contain("plan OLD");

        File.WriteAllText(Path.Combine(Folder, "cut-sheet.pdf"), "of another");
        File.Delete(Path.Combine(Folder, "orders/01-a.pdf"));
        var findings = FolderCheck.Of(Folder, "OLD", "data/plan.json");
        findings.Select(finding => (finding.Severity, finding.Rule)).Should().BeEquivalentTo([(Severity.Error, "folder-mixed"), (Severity.Note, "folder-file-missing")]);

        // A folder of an older version: one flat folder, no list.
        var flat = Directory.CreateDirectory(Path.Combine(_root, "flat")).FullName;
        File.WriteAllText(Path.Combine(flat, "tablet.html"), "<body data-plan=\"ABCD2345\">");
        FolderCheck.Of(flat, "ABCD2345", "plan.json").Should().BeEmpty();
        FolderCheck.Of(flat, "EFGH2345", "plan.json").Should().ContainSingle().Which.Rule.Should().Be("folder-mixed");
    }

    [Fact]
    public void A_file_written_later_goes_with_its_plan()
    {
        Write(Folder, "OLD", OldNames);
        File.WriteAllText(Path.Combine(Folder, "quote.pdf"), "a quote");
        FolderWriter.Enlist(Folder, "quote.pdf");

        Write(Folder, "NEW", NewNames).Removed.Should().Contain("quote.pdf");

        Is(Folder, "NEW", NewNames);
    }

    public void Dispose() => Directory.Delete(_root, recursive: true);

    private static Nest.Output.OutputResult Write(string folder, string plan, string[] names, Action<string>? before = null) =>
        FolderWriter.For(folder, before, threads: 1).Write(plan, Makers(plan, names));

    private static IEnumerable<FileMaker> Makers(string plan, string[] names) =>
        names.Select(name => new FileMaker(() => [(name, Encoding.UTF8.GetBytes(plan))]));

    /// <summary>What a person sees there: no hidden files, not the list of files, not what is his own.</summary>
    private static List<(string Name, string Text)> Seen(string folder) =>
    [
        .. Directory.GetFiles(folder, "*", SearchOption.AllDirectories)
            .Select(path => (Name: Path.GetRelativePath(folder, path).Replace('\\', '/'), Path: path))
            .Where(file => !file.Name.StartsWith('.') && !file.Name.Contains("/.nest-", StringComparison.Ordinal) && file.Name is not ("data/.lock" or FileList.Place or "orders/notes.txt"))
            .Select(file => (file.Name, File.ReadAllText(file.Path)))
            .OrderBy(file => file.Name, StringComparer.Ordinal),
    ];

    private static void Is(string folder, string plan, string[] names, params string[] more)
    {
        FileList.In(folder)!.Plan.Should().Be(plan);
        Seen(folder).Select(file => file.Name).Should().BeEquivalentTo([.. names, .. more]);
        Seen(folder).Where(file => names.Contains(file.Name)).Should().OnlyContain(file => file.Text == plan);
    }

    private static void Copy(string from, string to)
    {
        foreach (var path in Directory.GetFiles(from, "*", SearchOption.AllDirectories).Where(path => Path.GetFileName(path) != ".lock"))
        {
            var copy = Path.Combine(to, Path.GetRelativePath(from, path));
            Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
            File.Copy(path, copy);
        }

        foreach (var folder in Directory.GetDirectories(from, "*", SearchOption.AllDirectories))
        {
            Directory.CreateDirectory(Path.Combine(to, Path.GetRelativePath(from, folder)));
        }
    }
}
