using System.CommandLine;
using Nest.Cli;
using Nest.Cli.Commands;
using Nest.Cli.Commands.Rack;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Data;
using Nest.Rack;
using Nest.Rack.Values;
using Nest.RackStress;
using Nest.Solve;

namespace Nest.Tests.Rack;

public sealed class RackCommandTest : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("nest-rack-").FullName;
    private readonly StringWriter error = new();
    private StringWriter output = new();

    [Fact]
    public void Pieces_live_by_commands()
    {
        var marks = Good("rack add plate 6061-T6 500x300x10 -n 2 --place A1 --heat H7 --value 12.5 --clean left,top").Split('\n', StringSplitOptions.RemoveEmptyEntries);
        marks.Should().HaveCount(2);
        Good("rack list --material 6061-T6 --place a").Should().Contain(marks[0]).And.Contain("500 × 300 × 10 mm").And.Contain("12.50");
        Good("rack find 290x480x8").Should().Contain(marks[1]);
        using (var json = System.Text.Json.JsonDocument.Parse(Good("rack list --json")))
        {
            json.RootElement.EnumerateArray().Select(one => (one.GetProperty("mark").GetString(), one.GetProperty("length (mm)").GetDecimal(), one.GetProperty("value").GetDecimal()))
                .Should().BeEquivalentTo([(marks[0], 500m, 12.5m), (marks[1], 500m, 12.5m)]);
        }

        Good("rack find 290x510x8").Should().NotContain(marks[1]);
        Good($"rack move {marks[0]} --to B2");
        Good($"rack adjust {marks[1]} --length 480 --condition fair --keep-out 0,0,20,30");
        Good($"rack show {marks[1]}").Should().Contain("adjusted").And.Contain("480").And.Contain("fair");
        Good($"rack scrap {marks[0]} --reason bent");
        Good("rack history").Should().Contain($"scrapped {marks[0]}: bent");
        Good("rack undo");
        Good("rack list").Should().Contain(marks[0]);
        Good("rack check").Should().Contain("agrees");
        Good("rack balance").Should().Contain("0.000 kg");
        Good("rack rules --fair 0.9").Should().Contain("0.9");
        Good($"rack labels {In("l.pdf")}");
        Good($"rack labels {In("l.png")} {marks[0]} --one 62x29");
        Good($"rack picture {In("r.pdf")}");
        Good($"rack picture {In("r.png")}");
        Directory.GetFiles(folder, "r*.png").Should().NotBeEmpty();
        Good("rack count start");
        Good($"rack count sheet 1 {In("count.pdf")}");
        Good($"rack count found 1 {marks[0]} --at C1");
        Good("rack count show 1").Should().Contain("will be moved").And.Contain("will be booked as lost");
        Good("rack count apply 1");
        Good("rack trace --heat h7").Should().Contain(marks[1]).And.Contain("lost");
        foreach (var file in new[] { "l.pdf", "l.png", "r.pdf", "count.pdf" })
        {
            new FileInfo(In(file)).Length.Should().BePositive();
        }
    }

    [Theory]
    [InlineData("csv")]
    [InlineData("xlsx")]
    public void A_rack_goes_out_as_a_table_and_comes_back(string kind)
    {
        Good("rack add round-bar 6061-T651 900x25.4 --place =1+1");
        Good("rack add flat-bar 6061-T651 1200x50x10 --unit mm");
        Good($"rack export {In("rack." + kind)}");
        var first = Good("rack list");
        Run($"rack import {In("rack." + kind)}").Should().Be(ExitCode.InputRefused, "the marks were given before");
        File.Delete(In("rack.db"));
        Good($"rack import {In("rack." + kind)}");
        Good("rack list").Should().Be(first);
    }

    [Fact]
    public void A_piece_without_a_value_is_worth_the_same_in_the_rack_and_beside_a_job()
    {
        // Plate of 10 mm: kept and like a catalogue's plate; too small to keep: scrap; 0 is a value too; a bar.
        File.WriteAllText(In("rack.csv"), """
            mark,form,material,length,width,thickness,value,note
            A,plate,6061-T6,480,260,10,,A
            B,plate,6061-T6,90,60,10,,B
            C,plate,6061-T6,480,260,10,0,C
            D,plate,6061-T6,480,260,9.9,31.5,D
            E,flat bar,6082-T6,1240,40,15,,E

            """);
        File.WriteAllText(In("parts.csv"), "part,material,length,width,thickness,quantity\np,6061-T6,50,40,8,1\nq,6082-T6,50,40,8,1\n");
        File.WriteAllText(In("job.toml"), "unit = \"mm\"\nparts = \"parts.csv\"\nrack = \"rack.csv\"\n");
        var read = JobReader.Read(In("job.toml"));
        var beside = read.Value!.Job.Stocks.Where(stock => stock.IsLeftover).ToDictionary(stock => stock.RackMark!, stock => stock.PiecePrice);

        // The rack gives marks of its own; the note says which row it was.
        Good($"rack import {In("rack.csv")} --new-marks");
        error.ToString().Should().Contain("note: 3 pieces without a value entered at what the starter's demo prices give");
        using var store = RackStore.Open(In("rack.db"));
        var entered = store.List(new()).ToDictionary(piece => piece.Note, piece => piece.Value);
        entered.Should().HaveCount(5).And.BeEquivalentTo(beside);
        // The starter's cheapest 10 mm plate of 6061-T6 is 7.40 a kilogram in demo prices; 0.6 of it is credited. By hand:
        // 0.48 m x 0.26 m x 0.01 m x 2700 kg/m3 = 3.3696 kg x 7.40 x 0.6 = 14.9610.
        entered["A"].Amount.Should().BeApproximately(14.961m, 0.01m);
        entered["B"].Amount.Should().BePositive().And.BeLessThan(0.5m);
        entered["C"].Should().Be(Money.Zero);
        entered["D"].Amount.Should().Be(31.5m);
    }

    [Theory]
    [InlineData("rack list", "there is no rack")]
    [InlineData("rack add plate 6061-T651 500x300", "length x width x thickness")]
    [InlineData("rack add plate unobtainium 500x300x10", "the material 'unobtainium' is not known")]
    [InlineData("rack add plate 6061-T651 500x300xten", "500x300xten")]
    [InlineData("rack import missing.csv", "is not there")]
    [InlineData("reserve missing.json", "is not there")]
    public void Wrong_input_is_said_in_one_line(string command, string message)
    {
        Run(command).Should().Be(ExitCode.InputRefused);
        error.ToString().Should().Contain(message).And.NotContain("   at ");
    }

    [Fact]
    public void The_rest_after_a_miscut_is_planned_and_cut_by_commands_alone()
    {
        File.WriteAllText(In("parts.csv"), "part,material,length,width,thickness,quantity,forms\np,6061-T6,100,80,5,6,plate\n");
        File.WriteAllText(In("job.toml"), "unit = \"mm\"\nparts = \"parts.csv\"\n");
        Good("rack add plate 6061-T6 480x260x10 --value 1 --heat H1");
        Good($"plan {In("job.toml")} --rack {In("rack.db")} --work 2000 --out {In("first")}");
        Good($"reserve {Path.Combine(In("first"), "data", "plan.json")}");
        Run($"plan {In("job.toml")} --rack {In("rack.db")} --rest P9").Should().Be(ExitCode.InputRefused);
        Good("miscut P1 1 slipped --made 2:p --left 200x200 --heat H1");
        Good($"plan {In("job.toml")} --rack {In("rack.db")} --rest P1 --work 2000 --out {In("rest")}");
        PlanFile.Read(Path.Combine(In("rest"), "data", "plan.json")).Value!.Job.Parts.Single().Quantity.Should().Be(4, "six wanted, two made all the same");
        Good($"replan P1 {Path.Combine(In("rest"), "data", "plan.json")}").Should().Contain("P2");
        foreach (var layout in PlanFile.Read(Path.Combine(In("rest"), "data", "plan.json")).Value!.Layouts)
        {
            Good($"cut P2 {layout.Number} --count {layout.Count}");
        }

        Good("plans").Should().Contain("finished");
        Run($"plan {In("job.toml")} --rack {In("rack.db")} --rest P2").Should().Be(ExitCode.InputRefused);
        error.ToString().Should().Contain("nothing left to make");
    }

    /// <summary>What a plan gets to see of a large rack: one piece of twenty fits, and the plan is the same to the byte as with the
    /// fitting ones alone.</summary>
    [Fact]
    public void Pieces_ruled_out_early_do_not_reach_the_plan()
    {
        File.WriteAllText(In("parts.csv"), "part,material,length,width,thickness,quantity,forms\np,6061-T6,100,80,5,6,plate\n");
        File.WriteAllText(In("job.toml"), "unit = \"mm\"\nparts = \"parts.csv\"\n");
        var serving = Enumerable.Range(0, 20).Select(i => $"plate,6061-T6,{150 + (7 * i)},{120 + i},10,{1 + i}");
        string[] no = ["plate,7075-T6,480,260,10,5", "plate,6061-T6,480,260,4,5", "plate,6061-T6,99,90,10,5", "flat bar,6061-T6,900,79,10,5"];
        var others = Enumerable.Range(0, 380).Select(i => no[i % no.Length]);
        const string head = "form,material,length,width,thickness,value";
        File.WriteAllLines(In("few.csv"), [head, .. serving]);
        File.WriteAllLines(In("many.csv"), [head, .. serving, .. others]);
        foreach (var name in new[] { "few", "many" })
        {
            Good($"rack import {In(name + ".csv")} --rack {In(name + ".db")}");
            Good($"plan {In("job.toml")} --rack {In(name + ".db")} --work 2000 --out {In(name)}");
        }

        error.ToString().Should().Contain("20 of 20 pieces").And.Contain("20 of 400 pieces");
        var plan = File.ReadAllBytes(Path.Combine(In("many"), "data", "plan.json"));
        plan.Should().Equal(File.ReadAllBytes(Path.Combine(In("few"), "data", "plan.json")));
        PlanFile.Read(Path.Combine(In("many"), "data", "plan.json")).Value!.Job.Stocks.Count(stock => stock.IsLeftover).Should().Be(20);
    }

    [Fact]
    public void Marks_that_are_none_are_named_with_their_rows()
    {
        File.WriteAllText(In("marks.csv"), "mark,form,material,length,width,thickness\nR1*,plate,6061-T6,480,260,10\n,plate,6061-T6,480,260,10\nthe mark on the big plate behind the saw,plate,6061-T6,480,260,10\n");
        Run($"rack import {In("marks.csv")}").Should().Be(ExitCode.InputRefused);
        error.ToString().Should().Contain("marks.csv:2").And.Contain("marks.csv:4").And.Contain("--new-marks");
        File.Exists(In("rack.db")).Should().BeFalse("nothing is written");
        Good($"rack import {In("marks.csv")} --new-marks");
    }

    [Fact]
    public void A_piece_added_without_a_value_is_worth_what_import_gives_it()
    {
        File.WriteAllText(In("one.csv"), "form,material,length,width,thickness\nplate,6061-T6,480,260,10\n");
        Good($"rack import {In("one.csv")}");
        Good("rack add plate 6061-T6 480x260x10");
        error.ToString().Should().Contain("1 piece without a value").And.Contain("--value says what it carries");
        Good("rack add plate 6061-T6 480x260x10 --value 0");
        using var store = RackStore.Open(In("rack.db"));
        var values = store.List(new()).Select(piece => piece.Value.Amount).Order().ToList();
        values[0].Should().Be(0m, "nothing is a value too");
        values[2].Should().Be(values[1]).And.BeApproximately(14.961m, 0.01m, "3.3696 kg x 7.40 x 0.6, as above");
    }

    public void Dispose()
    {
        output.Dispose();
        error.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    private string In(string name) => Path.Combine(folder, name);

    private string Good(string command)
    {
        Run(command).Should().Be(ExitCode.Done, $"{command}: {error}");
        return output.ToString();
    }

    private int Run(string command)
    {
        output = new();
        var world = new World(output, error, true, TimeProvider.System, CancellationToken.None);
        var words = command.Split(' ');
        var parsed = App.Root(world, words).Parse(words.Contains("--rack") ? words : [.. words, "--rack", In("rack.db")]);
        parsed.Errors.Should().BeEmpty(command);
        return parsed.Invoke(new InvocationConfiguration { Output = output, Error = error, EnableDefaultExceptionHandler = false });
    }
}
