using System.Globalization;
using Nest.Core.Jobs;
using Nest.Data;
using Nest.Data.Tables;
using Nest.Planning;

namespace Nest.Cli.Commands;

/// <summary>Reads and checks a job for a command; what is wrong is told.</summary>
internal static class JobLoader
{
    /// <summary>Reads a job, a parts list, or with <c>-</c> the list that is piped in.</summary>
    public static ReadResult<JobInput> Read(World world, string input, TableChoices? choices = null) =>
        WithAges(world, input == "-" ? Planner.Read(world.In(), "-", choices) : Planner.Read(input, choices));

    /// <summary>Price lists that are older than they are good for are named; nothing else depends on the day.</summary>
    private static ReadResult<JobInput> WithAges(World world, ReadResult<JobInput> read)
    {
        if (read.Value is not { } given)
        {
            return read;
        }

        var today = DateOnly.FromDateTime(world.Time.GetLocalNow().DateTime);
        return new(given, [.. read.Findings, .. given.Correspondence.Suppliers
            .Where(card => card.PricesOf is { } day && today.DayNumber - day.DayNumber > card.PricesGoodForDays)
            .Select(card => new Finding(
                Severity.Note, "prices-old", new($"supplier {card.Supplier}"),
                string.Create(CultureInfo.InvariantCulture, $"its prices are of {card.PricesOf:yyyy-MM-dd}, {today.DayNumber - card.PricesOf!.Value.DayNumber} days old, and were good for {card.PricesGoodForDays}"),
                "ask for new ones, and set prices_of"))]);
    }

    /// <summary>Null after errors.</summary>
    public static JobInput? Load(World world, string input, TableChoices? choices = null)
    {
        var read = Read(world, input, choices);
        Screen.Report(world.Error, read.Findings);
        return read.Value;
    }
}
