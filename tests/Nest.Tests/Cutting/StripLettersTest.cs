using Nest.Core.Cutting;
using Nest.Core.Geometry;
using Nest.Tests.Output;

namespace Nest.Tests.Cutting;

/// <summary>What the strips of a layout are called.</summary>
public sealed class StripLettersTest
{
    /// <summary>Letters are chalked on the metal: no two strips share one, and I and O, which look like figures, are not used.</summary>
    [Fact]
    public void Strips_have_short_letters_that_no_two_share()
    {
        foreach (var (name, plan) in SamplePlans.All())
        {
            foreach (var item in CutSequencer.Order(plan).Items)
            {
                // A strip is what is cut under its letter: everything on the saw with one letter lies within what came off first.
                var first = new Dictionary<string, Rect>();
                foreach (var step in item.Sequence.Steps)
                {
                    foreach (var strip in step.Yields.Append(step.OnSaw).Where(piece => piece.Kind == WorkKind.Strip))
                    {
                        strip.Name.Should().MatchRegex("^strip [A-HJ-NP-Z]{1,2}$", name);
                        if (!first.TryAdd(strip.Name, strip.Area))
                        {
                            var whole = first[strip.Name];
                            (strip.Area.X >= whole.X && strip.Area.Y >= whole.Y && strip.Area.Right <= whole.Right && strip.Area.Top <= whole.Top)
                                .Should().BeTrue($"{name}, {strip.Name}");
                        }
                    }
                }
            }
        }
    }
}
