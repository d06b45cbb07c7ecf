using System.Text.RegularExpressions;
using Nest.Core.Jobs;
using Nest.Rack;

namespace Nest.Desk.Model;

/// <summary>What readers and rack advise, as a page says it: where they name an option or a command, the field or the page that does the same. What no page does yet is
/// said to belong to the command line.</summary>
internal static partial class PageWords
{
    private static readonly (Regex Said, string Here)[] Fields =
    [
        (MaterialGiven(), $"give it in the field '{DeskTexts.MaterialOf}'"),
        (MaterialNamed(), "write that name in the list"),
        (MaterialsFile(), ""),
        (Decimal(), $"'{DeskTexts.DecimalMark}: $1' reads"),
        (Unit(), $"choose it under '{DeskTexts.UnitOfNumbers}'"),
        (ModelUnit(), $"choose it under '{DeskTexts.UnitOfNumbers}'"),
        (Thickness(), $"give it in the field '{DeskTexts.ThicknessOf}'"),
        (Sheet(), $"'{DeskTexts.Sheet}' chooses another"),
        (Paste(), "paste it here"),
        (Again(), ""),
        (Replace(), "choose another name, or replace it here when that is over"),
        (NotOrdered(), "say that it was not ordered where it was not"),
        (Receive(), $"on the page {DeskTexts.Order}"),
        (AddWhole(), $"on the page {DeskTexts.Rack}, {DeskTexts.AddPiece}"),
        (PlansOf(), $"the page {DeskTexts.Saw}"),
        (HistoryOf(), $"the page {DeskTexts.History}"),
        (ShowOf(), $"the page {DeskTexts.Rack}"),
    ];

    /// <summary>A finding with its place.</summary>
    public static string Of(Finding finding) => $"{finding.Where}: {Of(finding.Message, finding.Advice, " — ")}";

    /// <summary>What the rack refused, and what to do, as a sentence.</summary>
    public static string Of(RackException refused) => $"{Of(refused.Message, refused.Advice, " – ")}.";

    /// <summary>A message and its advice.</summary>
    public static string Of(string message, string advice, string between)
    {
        var (said, more) = (Here(message), Here(advice));
        return more.Length == 0 ? said : $"{said}{between}{(Typed().IsMatch(more) ? "on the command line: " : "")}{more}";
    }

    private static string Here(string text)
    {
        text = Columns().Replace(text, match => match.Groups["head"].Value is "HEAD" or "YOUR HEAD"
            ? $"choose what a column is under '{DeskTexts.ReadAs}'"
            : $"choose '{(match.Groups["name"].Value == "none" ? DeskTexts.NotRead : match.Groups["name"].Value)}' for '{match.Groups["head"].Value}' under '{DeskTexts.ReadAs}'");
        return Fields.Aggregate(text, (now, field) => field.Said.Replace(now, field.Here)).Trim(' ', ',', ';');
    }

    [GeneratedRegex("""(or name the column that it is: |say which with |say )?--columns "(?<head>[^"]+?) = (?<name>[^"]+?)"( leaves it out| reads one)?""")]
    private static partial Regex Columns();

    [GeneratedRegex("say it with --material(?!s)")]
    private static partial Regex MaterialGiven();

    [GeneratedRegex("""(or say )?--material "[^"]+"( says another)?""")]
    private static partial Regex MaterialNamed();

    [GeneratedRegex(", or name a list with --materials")]
    private static partial Regex MaterialsFile();

    [GeneratedRegex("--decimal (comma|point) reads")]
    private static partial Regex Decimal();

    [GeneratedRegex("say --unit mm or --unit in")]
    private static partial Regex Unit();

    [GeneratedRegex("say it with --model-unit(: .*)?")]
    private static partial Regex ModelUnit();

    [GeneratedRegex("say it with --thickness")]
    private static partial Regex Thickness();

    [GeneratedRegex("--sheet names another")]
    private static partial Regex Sheet();

    [GeneratedRegex("paste it into 'nest parts -'")]
    private static partial Regex Paste();

    [GeneratedRegex("(; )?(to make the same batch once more|for a batch of its own),? say --again")]
    private static partial Regex Again();

    [GeneratedRegex("name another folder, or replace it with --replace when that is over")]
    private static partial Regex Replace();

    [GeneratedRegex("say --not-ordered where it was not ordered")]
    private static partial Regex NotOrdered();

    [GeneratedRegex("with 'nest receive( P\\d+)?'")]
    private static partial Regex Receive();

    [GeneratedRegex("with 'nest rack add --whole'")]
    private static partial Regex AddWhole();

    [GeneratedRegex("'nest plans( P\\d+)?'")]
    private static partial Regex PlansOf();

    [GeneratedRegex("'nest rack history'")]
    private static partial Regex HistoryOf();

    [GeneratedRegex("'nest rack (show [^']+|list[^']*)'")]
    private static partial Regex ShowOf();

    [GeneratedRegex("--[a-z]|'nest [a-z]")]
    private static partial Regex Typed();
}
