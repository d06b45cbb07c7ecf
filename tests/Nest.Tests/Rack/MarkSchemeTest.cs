using Nest.Rack.Marks;

namespace Nest.Tests.Rack;

public sealed class MarkSchemeTest
{
    [Fact]
    public void Marks_are_different_and_short()
    {
        var marks = Enumerable.Range(0, 90_000).Select(number => MarkScheme.FromNumber(number)).ToList();
        marks.Should().OnlyHaveUniqueItems();

        // 17³ = 4 913 marks of three characters and a check character, 17⁴ = 83 521 of four.
        marks.Take(4913).Should().OnlyContain(mark => mark.Length == 4);
        marks.Skip(4913).Take(83_521).Should().OnlyContain(mark => mark.Length == 5);
        marks.Should().OnlyContain(mark => mark.All(c => MarkScheme.Alphabet.Contains(c)));
    }

    /// <summary>By hand: bodies of three to eight characters, 17³ + 17⁴ + … + 17⁸ = 17³ × (17⁶ − 1) ÷ 16 = 7 411 741 974.</summary>
    [Fact]
    public void Where_no_marks_are_left_it_is_said()
    {
        const long All = 17L * 17 * 17 * ((17L * 17 * 17 * 17 * 17 * 17) - 1) / 16;
        MarkScheme.FromNumber(All - 1).Should().HaveLength(9);
        foreach (var number in new[] { All, long.MaxValue })
        {
            var beyond = () => MarkScheme.FromNumber(number);
            beyond.Should().Throw<ArgumentOutOfRangeException>().WithMessage("No marks are left.*");
        }
    }

    [Fact]
    public void Every_wrong_character_and_every_swap_is_found()
    {
        for (var number = 0; number < 90_000; number += 97)
        {
            var mark = MarkScheme.FromNumber(number);
            MarkScheme.TryRead(mark, out var read, out _).Should().BeTrue();
            read.Should().Be(mark);
            for (var i = 0; i < mark.Length; i++)
            {
                foreach (var other in MarkScheme.Alphabet.Where(other => other != mark[i]))
                {
                    var wrong = mark[..i] + other + mark[(i + 1)..];
                    MarkScheme.TryRead(wrong, out _, out _).Should().BeFalse(wrong);
                }

                for (var j = i + 1; j < mark.Length; j++)
                {
                    if (mark[i] != mark[j])
                    {
                        var swapped = mark.ToCharArray();
                        (swapped[i], swapped[j]) = (swapped[j], swapped[i]);
                        MarkScheme.TryRead(new string(swapped), out _, out _).Should().BeFalse();
                    }
                }
            }
        }
    }

    [Fact]
    public void Marks_that_follow_each_other_look_different()
    {
        for (var number = 0; number < 3000; number++)
        {
            var (a, b) = (MarkScheme.FromNumber(number), MarkScheme.FromNumber(number + 1));
            a.Zip(b).Count(pair => pair.First != pair.Second).Should().BeGreaterThanOrEqualTo(2);
        }
    }

    [Fact]
    public void Small_letters_blanks_and_hyphens_are_read()
    {
        var mark = MarkScheme.FromNumber(1234);
        MarkScheme.TryRead($" {mark[..2].ToLowerInvariant()}-{mark[2..].ToLowerInvariant()} ", out var read, out _).Should().BeTrue();
        read.Should().Be(mark);
    }

    [Theory]
    [InlineData("K0M2", "marks never have 0")]
    [InlineData("A", "a mark has 4 characters")]
    [InlineData("", "a mark has 4 characters")]
    public void What_is_no_mark_is_refused_with_the_reason(string text, string reason)
    {
        MarkScheme.TryRead(text, out _, out var error).Should().BeFalse();
        error.Should().Contain(reason);
    }
}
