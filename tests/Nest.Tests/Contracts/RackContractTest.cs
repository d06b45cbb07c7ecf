using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Exchange;

namespace Nest.Tests.Contracts;

/// <summary>What <c>nest rack list --json</c> prints is what its schema says.</summary>
public class RackContractTest
{
    [Fact]
    public void Pieces_with_everything_known_and_with_little_are_as_the_schema_has_them()
    {
        var plate = Plate() with
        {
            Mark = "A7K",
            State = PieceState.Reserved,
            ReservedFor = 12,
            Note = "a \"note\"",
            Place = "rack 2",
            Heat = "H1",
            Certificate = "3.1",
            Supplier = "Demo",
            Origin = "P3",
            Condition = PieceCondition.Poor,
            CleanEdges = new(true, false, false, true),
            Bought = true,
            GoodFaces = true,
            KeepOuts = [Damage(1.5m, 2), Damage(-1, 2.000001m)],
        };
        var bar = new RackPiece
        {
            Mark = "B", Form = Form.RoundBar, MaterialId = "304", Length = Length.FromMillimetres(900), Width = Length.FromMillimetres(25.4m), Thickness = Length.FromMillimetres(25.4m),
            State = PieceState.Lost,
        };
        Schema.Rack.Errors(RackJson.Of([plate, bar])).Should().BeEmpty();
    }

    [Theory]
    [InlineData("\"form\": \"plate\"", "\"form\": \"tube\"")]
    [InlineData("\"mark\": \"A7K\",", "")]
    [InlineData("\"rolling\"", "\"grain\"")]
    public void The_schema_refuses_what_is_not_a_rack(string part, string other)
    {
        var text = RackJson.Of([Plate() with { Mark = "A7K" }]);
        text.Should().Contain(part);
        Schema.Rack.Errors(text.Replace(part, other, StringComparison.Ordinal)).Should().NotBeEmpty();
    }

    private static Rect Damage(decimal x, decimal y) =>
        new(Length.FromMillimetres(x), Length.FromMillimetres(y), Length.FromMillimetres(3), Length.FromMillimetres(4));

    private static RackPiece Plate() => new()
    {
        Mark = "A7K", Form = Form.Plate, MaterialId = "6061-T6", Length = Length.FromMillimetres(500), Width = Length.FromMillimetres(300), Thickness = Length.FromMillimetres(10),
    };
}
