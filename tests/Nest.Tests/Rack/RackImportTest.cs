namespace Nest.Tests.Rack;

public sealed class RackImportTest : IDisposable
{
    private readonly RackConsole nest = new();

    [Fact]
    public void A_count_enters_so_many_pieces_each_with_its_mark()
    {
        File.WriteAllText(nest.In("r.csv"), "form,material,length,width,thickness,count,value\nplate,6061-T6,300,200,10,3,5\nplate,6061-T6,100,200,10,,5\n");
        nest.Good($"rack import {nest.In("r.csv")}").Should().Contain("added 4 pieces");
        using var store = nest.Open();
        store.List(new()).Select(piece => piece.Mark).Distinct().Should().HaveCount(4);
        store.List(new() { Holds = [Nest.RackStress.SamplePlans.Mm(300)] }).Should().HaveCount(3).And.OnlyContain(piece => piece.Value.Amount == 5m);
    }

    [Fact]
    public void A_mark_is_on_one_piece_only()
    {
        var mark = Nest.Rack.Marks.MarkScheme.FromNumber(9);
        File.WriteAllText(nest.In("r.csv"), $"mark,form,material,length,width,thickness,count\n{mark},plate,6061-T6,300,200,10,2\n,plate,6061-T6,300,200,10,0\n,plate,6061-T6,300,200,10,1.5\n");
        nest.Refused($"rack import {nest.In("r.csv")}");
        nest.Error.Should().Contain($"r.csv:2:7: the mark {mark} is on one piece, not on 2").And.Contain("r.csv:3:7").And.Contain("r.csv:4:7").And.NotContain("entered at");
        File.Exists(nest.In("rack.db")).Should().BeFalse();
    }

    [Fact]
    public void A_decimal_comma_is_found_and_asked_about_where_it_stays_open()
    {
        File.WriteAllText(nest.In("open.csv"), "form;material;length;width;thickness\nplate;6061-T6;1,250;200;10\n");
        nest.Refused($"rack import {nest.In("open.csv")}");
        nest.Error.Should().Contain("length 1,250 may be 1.250 or 1250").And.Contain("--decimal comma reads 1.250").And.NotContain("job file");
        nest.Good($"rack import {nest.In("open.csv")} --decimal point");
        nest.Good("rack list").Should().Contain("1250 × 200 × 10 mm");
        File.WriteAllText(nest.In("r.csv"), "form;material;length;width;thickness;value\nplate;6061-T6;300,5;200;10;5,50\n");
        nest.Good($"rack import {nest.In("r.csv")}");
        nest.Good("rack list").Should().Contain("300.5 × 200 × 10 mm").And.Contain("5.50");
    }

    public void Dispose() => nest.Dispose();
}
