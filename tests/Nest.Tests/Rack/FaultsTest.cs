using System.Diagnostics;
using Microsoft.Data.Sqlite;
using Nest.Rack;
using Nest.Rack.Database;
using Nest.RackStress;

namespace Nest.Tests.Rack;

public sealed class FaultsTest : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("nest-rack-").FullName;

    private string FilePath => Path.Combine(folder, "rack.db");

    [Fact]
    public void A_rack_of_a_newer_version_is_refused_unchanged()
    {
        Fill();
        Sql("PRAGMA user_version = 99");
        var before = File.ReadAllBytes(FilePath);
        Opening().Which.Fault.Should().Be(RackFault.Newer);
        File.ReadAllBytes(FilePath).Should().Equal(before);
    }

    [Fact]
    public void A_database_of_another_program_is_refused_unchanged()
    {
        Sql("CREATE TABLE customers (id INTEGER)");
        var before = File.ReadAllBytes(FilePath);
        Opening().Which.Fault.Should().Be(RackFault.NotARack);
        File.ReadAllBytes(FilePath).Should().Equal(before);
    }

    [Fact]
    public void A_file_that_is_no_database_is_called_damaged_and_kept()
    {
        File.WriteAllText(FilePath, new string('x', 5000));
        Opening().Which.Fault.Should().Be(RackFault.Damaged);
        File.ReadAllText(FilePath).Should().Be(new string('x', 5000));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(99)]
    [InlineData(511)]
    public void What_is_left_of_a_file_is_no_new_rack(int bytes)
    {
        Fill();
        File.WriteAllBytes(FilePath, File.ReadAllBytes(FilePath)[..bytes]);
        var before = File.ReadAllBytes(FilePath);
        Opening().Which.Fault.Should().Be(RackFault.Damaged);
        File.ReadAllBytes(FilePath).Should().Equal(before);
    }

    [Fact]
    public void Damage_inside_is_found_and_the_backup_is_named()
    {
        Fill(300);
        var backup = FilePath + ".backup-v1-20260101-000000";
        File.Copy(FilePath, backup);
        var bytes = File.ReadAllBytes(FilePath);
        for (var page = 3; page < (bytes.Length / 4096) - 1; page++)
        {
            bytes.AsSpan(page * 4096, 4096).Fill(0xA5);
        }

        File.WriteAllBytes(FilePath, bytes);
        var list = () =>
        {
            using var store = RackStore.Open(FilePath);
            store.List(new());
        };
        var fault = list.Should().Throw<RackException>().Which;
        fault.Fault.Should().Be(RackFault.Damaged);
        fault.Advice.Should().Contain(backup);
    }

    [Fact]
    public void A_full_disk_changes_nothing()
    {
        Fill(20);
        var pages = (int)(new FileInfo(FilePath).Length / 4096) + 2;
        using (var store = RackStore.Open(FilePath, new RackOptions { LargestPages = pages }))
        {
            var add = () => store.Add([.. Enumerable.Repeat(RackFixture.Plate(500, 300), 500)]);
            add.Should().Throw<RackException>().Which.Fault.Should().Be(RackFault.DiskFull);
            store.List(new()).Should().HaveCount(20);
            store.Check().Should().BeEmpty();
        }

        using var again = RackStore.Open(FilePath);
        again.Check().Should().BeEmpty();
        again.Add(RackFixture.Plate(500, 300)).Mark.Should().NotBeEmpty();
    }

    [UnixFact("Rights of folders work otherwise there.")]
    [System.Runtime.Versioning.UnsupportedOSPlatform("windows")]
    public void A_rack_in_a_read_only_folder_can_be_read_and_refuses_changes()
    {
        Fill(3);
        File.SetUnixFileMode(FilePath, UnixFileMode.UserRead | UnixFileMode.GroupRead | UnixFileMode.OtherRead);
        const UnixFileMode ReadOnlyFolder = UnixFileMode.UserRead | UnixFileMode.UserExecute | UnixFileMode.GroupRead | UnixFileMode.GroupExecute | UnixFileMode.OtherRead | UnixFileMode.OtherExecute;
        File.SetUnixFileMode(folder, ReadOnlyFolder);
        try
        {
            // Rights don't bind the superuser: there another user tries.
            var (exit, output) = Probe(FilePath);
            exit.Should().Be(0, output);
            output.Should().Contain("3 pieces").And.Contain("may not be written; nothing was changed");
        }
        finally
        {
            File.SetUnixFileMode(folder, ReadOnlyFolder | UnixFileMode.UserWrite);
            File.SetUnixFileMode(FilePath, UnixFileMode.UserRead | UnixFileMode.UserWrite);
        }
    }

    /// <summary>A clock that was set back (a flat battery, summer time done wrong) neither changes the order of the history nor what is taken back.</summary>
    [Fact]
    public void A_clock_that_jumps_back_changes_no_order()
    {
        var clock = new StillClock(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero));
        using var store = RackStore.Open(FilePath, new RackOptions { Durable = false, Who = "tester", Clock = clock });
        store.Learn([SamplePlans.Aluminium]);
        var first = store.Add(RackFixture.Plate(500, 300)).Mark;
        clock.Now = clock.Now.AddYears(-10);
        var second = store.Add(RackFixture.Plate(400, 200)).Mark;

        store.History(2).Select(change => change.Kind).Should().Equal("add", "add");
        store.HistoryOf(second).Single().Id.Should().BeGreaterThan(store.HistoryOf(first).Single().Id);
        store.Undo();
        store.List(new()).Select(piece => piece.Mark).Should().Equal(first);
        store.Check().Should().BeEmpty();
    }

    /// <summary>Linux lets a file be deleted that is open, and what is written then is lost with the last one who has it open.</summary>
    [UnixFact("An open file cannot be deleted there.")]
    public void A_rack_that_is_deleted_under_way_is_told_and_not_written_into_the_void()
    {
        Fill();
        using var store = RackStore.Open(FilePath, new RackOptions { Durable = false });
        File.Delete(FilePath);
        var add = () => store.Add(RackFixture.Plate(500, 300));
        add.Should().Throw<RackException>().WithMessage("*deleted*nothing was changed*");
    }

    [Fact]
    public void A_folder_that_is_not_there_is_said_clearly()
    {
        var open = () => RackStore.Open(Path.Combine(folder, "missing", "rack.db"));
        open.Should().Throw<RackException>().WithMessage("*cannot be opened or created*");
    }

    [Fact]
    public void While_another_program_writes_the_wait_is_kept_and_said()
    {
        Fill(1);
        using var other = new SqliteConnection(Db.ConnectionString(FilePath, SqliteOpenMode.ReadWrite));
        other.Open();
        using var begin = other.CreateCommand();
        begin.CommandText = "BEGIN IMMEDIATE";
        begin.ExecuteNonQuery();
        using var store = RackStore.Open(FilePath, new RackOptions { Wait = TimeSpan.FromSeconds(1.5) });
        store.List(new()).Should().HaveCount(1, "reading goes on meanwhile");
        var watch = Stopwatch.StartNew();
        var add = () => store.Add(RackFixture.Plate(500, 300));
        var fault = add.Should().Throw<RackException>().WithMessage("*in use by another program (waited 1.5 s); nothing was changed").Which;
        (fault.Fault, fault.Advice).Should().Be((RackFault.InUse, "try again"));
        watch.Elapsed.Should().BeGreaterThan(TimeSpan.FromSeconds(1.4)).And.BeLessThan(TimeSpan.FromSeconds(20));
    }

    [Fact]
    public void Migration_keeps_all_and_makes_a_backup_first()
    {
        using (var old = RackStore.Open(FilePath, new RackOptions { Versions = [Schema.Versions[0]] }))
        {
            old.Learn([SamplePlans.Aluminium]);
            old.Add(RackFixture.Plate(500, 300));
        }

        using (var store = RackStore.Open(FilePath))
        {
            store.List(new()).Should().HaveCount(1);
            store.StartCount().Should().Be(1, "the tables of version 2 are there");
        }

        var backup = Directory.GetFiles(folder, "rack.db.backup-v1-*").Should().ContainSingle().Subject;
        using var kept = RackStore.Open(backup);
        kept.List(new()).Should().HaveCount(1);
        kept.Check().Should().BeEmpty();
    }

    /// <summary>A rack of version 2 knew plans and cuts, but not what was bought for them.</summary>
    [Fact]
    public void Migration_reads_purchases_from_the_layouts_of_old_plans()
    {
        using (var store = RackStore.Open(FilePath))
        {
            store.Learn([SamplePlans.Aluminium, SamplePlans.Steel]);
            var part = SamplePlans.Part("bracket", "6061-T651", 150, 80, 10, 40);
            var job = SamplePlans.Job("old", [part], [SamplePlans.Plate("plate", 1000, 500, 10, 90)]);
            var id = store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 3, part, 3, 2)));
            store.ConfirmCut(id, 1);
        }

        Sql("DELETE FROM change_row WHERE table_name IN ('purchase', 'delivery'); DROP TABLE delivery; DROP TABLE purchase; DROP INDEX piece_box; ALTER TABLE demand DROP COLUMN body; "
            + "UPDATE change_row SET after = json_remove(after, '$.body') WHERE table_name = 'demand'; ALTER TABLE piece DROP COLUMN section; "
            + "UPDATE change_row SET before = json_remove(before, '$.section'), after = json_remove(after, '$.section') WHERE table_name = 'piece'; PRAGMA user_version = 2");
        using var migrated = RackStore.Open(FilePath);
        Directory.GetFiles(folder, "rack.db.backup-v2-*").Should().ContainSingle();
        var purchase = migrated.Plan(1).Purchases.Should().ContainSingle().Subject;
        (purchase.StockId, purchase.Wanted, purchase.Came, purchase.ToCome).Should().Be(("plate", 3, 1, 2));
        migrated.Receive(new() { PlanId = 1 }).Pieces.Should().HaveCount(2).And.OnlyContain(one => one.Kept);
        migrated.ConfirmCut(1, 1, 2);
        migrated.Check().Should().BeEmpty();

        // What the old program did can still be taken back, newest first.
        foreach (var change in migrated.History().Where(change => change.UndoneBy is null && change.Undoes is null && change.Kind != "materials").ToList())
        {
            migrated.Undo(change.Id);
        }

        migrated.List(new()).Should().BeEmpty();
        migrated.Plans().Should().BeEmpty();
        migrated.Check().Should().BeEmpty();
    }

    [Fact]
    public void A_migration_that_fails_leaves_the_old_rack()
    {
        Fill(2);
        var open = () => RackStore.Open(FilePath, new RackOptions { Versions = [.. Schema.Versions, "CREATE TABLE extra (id INTEGER); INSERT INTO missing VALUES (1);"] });
        open.Should().Throw<RackException>();
        using var store = RackStore.Open(FilePath);
        store.List(new()).Should().HaveCount(2);
        store.Check().Should().BeEmpty();
        Number("SELECT count(*) FROM sqlite_schema WHERE name = 'extra'").Should().Be(0);
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private FluentAssertions.Specialized.ExceptionAssertions<RackException> Opening()
    {
        var open = () =>
        {
            using var store = RackStore.Open(FilePath);
        };
        return open.Should().Throw<RackException>();
    }

    private void Fill(int count = 1)
    {
        using var store = RackStore.Open(FilePath, new RackOptions { Durable = false });
        store.Learn([SamplePlans.Aluminium]);
        store.Add([.. Enumerable.Repeat(RackFixture.Plate(500, 300), count)]);
    }

    private void Sql(string sql)
    {
        using var connection = new SqliteConnection(Db.ConnectionString(FilePath, SqliteOpenMode.ReadWriteCreate));
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    private long Number(string sql)
    {
        using var connection = new SqliteConnection(Db.ConnectionString(FilePath, SqliteOpenMode.ReadOnly));
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        return (long)command.ExecuteScalar()!;
    }

    private static (int Exit, string Output) Probe(string path)
    {
        var program = typeof(SamplePlans).Assembly.Location;
        var start = Environment.IsPrivilegedProcess
            ? new ProcessStartInfo("setpriv", ["--reuid=65534", "--clear-groups", Environment.ProcessPath is { } host && Path.GetFileNameWithoutExtension(host) == "dotnet" ? host : "dotnet", program, "probe", path])
            : new ProcessStartInfo("dotnet", [program, "probe", path]);
        (start.RedirectStandardOutput, start.RedirectStandardError) = (true, true);
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync();
        var output = process.StandardOutput.ReadToEnd() + error.Result;
        process.WaitForExit();
        return (process.ExitCode, output);
    }
}
