namespace Nest.Tests.Rack;

/// <summary>What a one-person shop typed and what it wanted to read, by whole commands.</summary>
public sealed class ShopWordsTest : IDisposable
{
    private readonly BarShop shop = new();

    public void Dispose() => shop.Dispose();

    private RackConsole Rack => shop.Console;

    [Fact]
    public void What_comes_is_entered_by_the_suppliers_item_number()
    {
        shop.Plan(shop.Job(22), "first");
        Rack.Good("reserve", Rack.In("first"));
        Rack.Refused("receive P1 baar");
        Rack.Error.Should().Contain("P1 buys no 'baar' — it buys bar");
        Rack.Refused("receive P1 bar --count 4");
        Rack.Refused("receive P1 --material 1018 --heat H1");
        Rack.Good("receive P1 BAR --count 2 --heat H7");
        Rack.Good("receive P1 --material 6061-T6").Should().Contain("received 1 piece");
        Rack.Good("rack list --heat H7 --json");
    }

    [Fact]
    public void The_sheets_of_a_plan_at_work_are_not_replaced()
    {
        var job = shop.Job(22);
        shop.Plan(job, "first");
        shop.Plan(job, "first");
        Rack.Good("reserve", Rack.In("first"));
        var file = Rack.In("first/" + Nest.Output.OutputFolder.PlanPlace);
        var before = File.ReadAllBytes(file);

        Rack.Refused("plan", job, "--out", Rack.In("first"), "--work", "500");

        Rack.Error.Should().Contain("reserved").And.Contain("nothing was planned");
        File.ReadAllBytes(file).Should().Equal(before);
    }

    // 500 mm are 19.685 in; a leftover of 30 in cannot come out of it.
    [Fact]
    public void The_rack_speaks_the_shops_unit()
    {
        shop.Plan(shop.Job(22), "first");
        Rack.Good("reserve", Rack.In("first"));
        Rack.Refused("cut P1 1 --unit in --left 200");
        Rack.Error.Should().Contain("a leftover of 200 in cannot come out of").And.Contain("which is 118.11").And.NotContain("mm");
        Rack.Refused("rack add plate 6061-T6 20x10x0.5 --unit in --keep-out 18,0,4,2 --value 5");
        Rack.Error.Should().NotContain("mm");
    }
}
