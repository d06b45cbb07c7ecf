using System.Globalization;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Planning;

/// <summary>What making several jobs as one is worth, in the sentences of command line and desk.</summary>
public static class TogetherWords
{
    /// <summary>Where the search was ended before the plans apart were made.</summary>
    public const string NotWorkedOut = "What it saves to make them together was not worked out: the search was ended before.";

    /// <summary>What each job bears of the plan of all.</summary>
    public static string Shares(Plan plan) => $"Of the cost bears: {string.Join(", ", TogetherResult.Shares(plan).Select(one => string.Create(
        CultureInfo.InvariantCulture, $"{one.Job.Name} {one.Total.Amount:0.00} {plan.Job.Currency} ({one.Job.Sets} {(one.Job.Sets == 1 ? "set" : "sets")}, {one.Pieces} blanks)")))}.";

    /// <summary>The jobs apart, what making them together saves, what waiting for the last is worth; each with what is proven.</summary>
    public static IEnumerable<string> Of(TogetherResult result)
    {
        var currency = result.Whole.Job.Currency;
        yield return $"Apart: {string.Join(", ", result.Second.Select(one => $"{one.Job.Name} {Text(one.TotalCost)} {currency} ({Standing(one)})"))}.";
        if (!result.IsComparable)
        {
            yield return "Not all parts are cut in all of these plans, so the costs cannot be compared.";
            yield break;
        }

        yield return result.Saves == Money.Zero ? "Together costs the same."
            : $"Together {(result.Saves > Money.Zero ? "saves" : "costs more by")} {Text(Abs(result.Saves))} {currency} ({(result.ProvenSaving is { } sure
                ? $"proven: at least {Text(sure)} of it remains however well each is planned by itself" : "not proven: it lies within the gaps of the plans")}).";
        if (result.WaitingIsWorth is { } worth)
        {
            var last = result.Whole.Job.Together[^1].Name;
            var (others, by) = result.Whole.Job.Together.Length == 2 ? (result.Whole.Job.Together[0].Name, "itself") : ("the others", "themselves");
            var now = $"{others} cut now as planned by {by}, {last} later from what is left: {Text(result.Before.TotalCost)} + {Text(result.Later!.TotalCost)} {currency}";
            yield return worth > Money.Zero
                ? $"Waiting for {last} is worth {Text(worth)} {currency} ({(result.ProvenWaiting is { } least ? $"proven: at least {Text(least)}" : "not proven")}; {now})."
                : $"Waiting for {last} is worth nothing ({now}).";
        }
    }

    private static string Standing(Plan plan) => plan.Status == SolveStatus.Proven ? "proven"
        : plan.Gap is { } gap ? string.Create(CultureInfo.InvariantCulture, $"at most {decimal.Ceiling(gap * 1000m) / 10m:0.0} % too dear") : "no bound";

    private static Money Abs(Money money) => money < Money.Zero ? Money.Zero - money : money;

    private static string Text(Money money) => money.Amount.ToString("0.00", CultureInfo.InvariantCulture);
}
