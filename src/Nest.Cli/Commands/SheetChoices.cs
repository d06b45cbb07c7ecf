using System.CommandLine;
using System.Globalization;
using Nest.Core.Quantities;
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

    private readonly Option<string?> _paper = new("--paper")
    {
        Description = "a4, letter, or both: two cut sheets. Default: the job's, else Letter for inches and A4 for millimetres.", HelpName = "PAPER",
    };

    private readonly Option<bool> _svg = new("--svg") { Description = "Each picture as SVG too, beside the PNG." };

    private readonly Option<bool> _pictures = new("--all-pictures")
    {
        Description = string.Create(CultureInfo.InvariantCulture, $"A picture file of every sawn layout, also of more than {OutputOptions.MostPictures} or with more than {OutputOptions.MostPicturedPieces} pieces: cut sheet and tablet show them all anyway."),
    };

    public SheetChoices(Command command)
    {
        _paper.AcceptOnlyFromAmong("a4", "letter", "both");
        _date.Validators.Add(result =>
        {
            if (result.Tokens is [{ Value: var text }] && text != Today && !IsDay(text, out _))
            {
                result.AddError("--date wants a day as year-month-day (2026-11-25), or 'today'.");
            }
        });
        command.Options.Add(_date);
        command.Options.Add(_comma);
        command.Options.Add(_paper);
        command.Options.Add(_svg);
        command.Options.Add(_pictures);
    }

    /// <param name="unit">Of the job.</param>
    /// <param name="usual">The job's paper, <c>a4</c> or <c>letter</c>; null: it says none.</param>
    public OutputOptions Of(ParseResult parsed, TimeProvider time, LengthUnit unit, string? usual) => new()
    {
        Papers = (parsed.GetValue(_paper) ?? usual) switch
        {
            "both" => [Paper.A4, Paper.Letter],
            var word => [PaperWords.Of(word, unit)],
        },
        PicturesAsSvg = parsed.GetValue(_svg),
        Pictures = parsed.GetValue(_pictures) ? true : null,
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
