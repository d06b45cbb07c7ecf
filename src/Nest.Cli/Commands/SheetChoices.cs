using System.CommandLine;
using System.Globalization;
using Nest.Output;
using Nest.Output.Texts;

namespace Nest.Cli.Commands;

/// <summary>What the user may choose for sheets and pictures: the day printed on them, the decimal mark.</summary>
internal sealed class SheetChoices
{
    private const string Today = "today";

    private readonly Option<string?> _date = new("--date")
    {
        Description = "Day printed on every sheet: 2026-11-25, or 'today'. Default: none, so that the same plan gives the same bytes.", HelpName = "DAY",
    };

    private readonly Option<bool> _comma = new("--decimal-comma")
    {
        Description = "Sheets, pictures and summary write 1.234,5 instead of 1234.5. Lists for other programs (CSV, DXF) keep the point.",
    };

    public SheetChoices(Command command)
    {
        _date.Validators.Add(result =>
        {
            if (result.Tokens is [{ Value: var text }] && text != Today && !IsDay(text, out _))
            {
                result.AddError("--date wants a day as year-month-day (2026-11-25), or 'today'.");
            }
        });
        command.Options.Add(_date);
        command.Options.Add(_comma);
    }

    public OutputOptions Of(ParseResult parsed, TimeProvider time) => new()
    {
        Date = parsed.GetValue(_date) switch
        {
            null => null,
            Today => DateOnly.FromDateTime(time.GetLocalNow().Date),
            var text => IsDay(text, out var day) ? day : null,
        },
        Numbers = parsed.GetValue(_comma) ? new NumberStyle { DecimalMark = ',', GroupMark = "." } : NumberStyle.Invariant,
    };

    private static bool IsDay(string text, out DateOnly day) =>
        DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out day);
}
