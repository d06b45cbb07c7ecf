using System.CommandLine;
using Nest.Cli;

namespace Nest.Tests.Rack;

public sealed class NumberInputTest : IDisposable
{
    private readonly RackConsole nest = new();

    [Theory]
    [InlineData("rack add plate 6061-T6 300x200x10 --value 5,50", "--value: '5,50'", "write 5.50")]
    [InlineData("rack rules --holding 0,5", "--holding: '0,5'", "write 0.5")]
    [InlineData("rack list --wait 1,5", "--wait: '1,5'", "write 1.5")]
    [InlineData("rack list --most 1.5", "--most wants a whole number", "'1.5'")]
    [InlineData("rack add plate 6061-T6 300x200x10 -n 1,5", "--count wants a whole number", "'1,5'")]
    [InlineData("rack undo x", "change wants a whole number", "'x'")]
    [InlineData("rack history --change 99999999999999999999", "--change wants a whole number", "9999")]
    [InlineData("quote j.toml --margin 12,5", "--margin: '12,5'", "write 12.5")]
    [InlineData("why j.toml --set-up 1,000.50", "--set-up: '1,000.50'", "write it without groups of thousands: 1000.50")]
    [InlineData("plan j.toml --seconds 1,5", "--seconds: '1,5'", "write 1.5")]
    [InlineData("plan j.toml --work many", "--work wants a whole number", "'many'")]
    [InlineData("cut P1 one", "layout wants a whole number", "'one'")]
    [InlineData("miscut P1 2,3 slipped", "layout wants a whole number", "'2,3'")]
    [InlineData("rack find 300,5x200x10", "'300,5x200x10'", "write 300.5")]
    [InlineData("rack trace --batch", "--batch", "argument missing")]
    public void A_number_is_read_as_it_is_written_or_refused_in_our_words(string command, string what, string advice)
    {
        nest.Good("rack add plate 6061-T6 300x200x10");
        nest.Refused(command);
        nest.Error.Should().Contain(what).And.Contain(advice).And.NotContain("decimal_mark").And.NotContain("Cannot parse");
    }

    /// <summary>Whatever option is added to whatever command: its numbers are read here.</summary>
    [Fact]
    public void No_number_of_any_command_is_left_to_the_library()
    {
        var numbers = 0;
        foreach (var option in All(App.Root(new World(TextWriter.Null, TextWriter.Null, true, TimeProvider.System, CancellationToken.None))).SelectMany(command => command.Options))
        {
            var type = Nullable.GetUnderlyingType(option.ValueType) ?? option.ValueType;
            if (type == typeof(decimal) || type == typeof(double) || type == typeof(int) || type == typeof(long))
            {
                numbers++;
                option.GetType().GetProperty("CustomParser")!.GetValue(option).Should().NotBeNull(option.Name);
            }
            else
            {
                new[] { typeof(string), typeof(string[]), typeof(bool), typeof(void) }.Should().Contain(type, option.Name);
            }
        }

        numbers.Should().BeGreaterThan(20);

        static IEnumerable<Command> All(Command command) => command.Subcommands.SelectMany(All).Prepend(command);
    }

    public void Dispose() => nest.Dispose();
}
