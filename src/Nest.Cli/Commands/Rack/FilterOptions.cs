using System.CommandLine;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands.Rack;

/// <summary>The filters by which pieces are chosen.</summary>
internal sealed class FilterOptions(RackAccess access)
{
    public static readonly string[] FormWords = [.. Enum.GetValues<Form>().Select(form => form.Word().Replace(' ', '-'))];

    private readonly Option<string?> material = new("--material", "-m") { Description = "Alloy with temper, or grade; also how it begins, or a family such as aluminium.", HelpName = "NAME" };
    private readonly Option<string?> form = FormOption();
    private readonly Option<string?> thicknessFrom = new("--thickness-from") { Description = "Smallest thickness.", HelpName = "SIZE" };
    private readonly Option<string?> thicknessTo = new("--thickness-to") { Description = "Largest thickness.", HelpName = "SIZE" };
    private readonly Option<string?> holds = new("--holds") { Description = "Pieces that hold a box of these sides, whichever way it lies: 300x200x10.", HelpName = "SIZES" };
    private readonly Option<int?> older = Whole("--older", "On the rack for at least so many days.", "DAYS", 0);
    private readonly Option<int?> newer = Whole("--newer", "On the rack for at most so many days.", "DAYS", 0);
    private readonly Option<string?> place = new("--place") { Description = "Place, or how it begins.", HelpName = "PLACE" };
    private readonly Option<string?> heat = new("--heat") { Description = "Heat or lot number.", HelpName = "NUMBER" };
    private readonly Option<bool> whole = new("--whole") { Description = "Only whole plates and bars, as bought." };
    private readonly Option<bool> leftovers = new("--leftovers") { Description = "Only leftovers." };
    private readonly Option<bool> free = new("--free") { Description = "Only pieces that no plan has reserved." };
    private readonly Option<bool> all = new("--all") { Description = "Also pieces that are gone: cut, scrapped, lost." };
    private readonly Option<string?> plan = new("--plan") { Description = "Only what this plan has reserved.", HelpName = "PLAN" };
    private readonly Option<int?> most = Whole("--most", "At most so many.", "N", 1);

    public void AddTo(Command command)
    {
        foreach (Option option in new Option[] { material, form, thicknessFrom, thicknessTo, holds, older, newer, place, heat, whole, leftovers, free, all, plan, most })
        {
            command.Add(option);
        }
    }

    /// <exception cref="RackException">A filter cannot be read.</exception>
    public PieceFilter Read(ParseResult parsed, RackStore store)
    {
        var unit = access.UnitOf(parsed);
        var number = parsed.GetValue(heat);
        if (number is not null && !store.KnowsHeat(number))
        {
            throw new RackException(RackFault.Refused, $"the rack knows no heat '{number}'", "see the column heat of 'nest rack list --all'");
        }

        return new()
        {
            MaterialIds = parsed.GetValue(material) is { } name ? KnownMaterial.OnRack(name, store) : [],
            Form = parsed.GetValue(form) is { } word ? (Form)Array.IndexOf(FormWords, word) : null,
            ThicknessFrom = Size(parsed, thicknessFrom, unit),
            ThicknessTo = Size(parsed, thicknessTo, unit),
            Holds = parsed.GetValue(holds) is { } sides ? [.. Sizes(sides, unit)] : [],
            EnteredTo = parsed.GetValue(older) is { } olderDays ? access.Today.AddDays(-olderDays) : null,
            EnteredFrom = parsed.GetValue(newer) is { } newerDays ? access.Today.AddDays(-newerDays) : null,
            Place = parsed.GetValue(place),
            Heat = number?.Trim(),
            Bought = (parsed.GetValue(whole), parsed.GetValue(leftovers)) switch { (true, false) => true, (false, true) => false, _ => null },
            States = parsed.GetValue(all) ? [.. Enum.GetValues<PieceState>()] : parsed.GetValue(free) ? [PieceState.OnRack] : [],
            ReservedFor = parsed.GetValue(plan) is { } planned ? store.Plan(PlanId(planned)).Id : null,
            Limit = parsed.GetValue(most),
        };
    }

    public static Option<string?> FormOption()
    {
        var option = new Option<string?>("--form") { Description = "Form." };
        option.AcceptOnlyFromAmong(FormWords);
        return option;
    }

    public static long PlanId(string text) => PlanNumber.TryRead(text, out var id)
        ? id
        : throw new RackException(RackFault.Refused, $"'{text}' is no plan's number", "the rack gives a plan its number, as P7, when it is reserved; see 'nest plans'");

    public static Length[] Sizes(string text, LengthUnit unit) =>
        SizeText.Read(text, unit) is { Error.Length: 0 } read
            ? [.. read.Items.Select(item => item.Length)]
            : throw new RackException(RackFault.Refused, RackText.Refusal(SizeText.Read(text, unit)), "");

    /// <summary>The one size that an option names; null when it is not given.</summary>
    /// <exception cref="RackException">It cannot be read.</exception>
    public static Length? Size(ParseResult parsed, Option<string?> option, LengthUnit unit) => parsed.GetValue(option) switch
    {
        null => null,
        var text => Sizes(text, unit) is [var one] ? one : throw new RackException(RackFault.Refused, $"{option.Name} is '{text}'", "write one size"),
    };

    private static Option<int?> Whole(string name, string description, string helpName, int least)
    {
        var option = new Option<int?>(name) { Description = description, HelpName = helpName };
        option.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<int?>() < least)
            {
                result.AddError($"{name} wants a whole number of {least} or more.");
            }
        });
        return option;
    }
}
