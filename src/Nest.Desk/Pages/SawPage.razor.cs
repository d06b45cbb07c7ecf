using System.Globalization;
using Microsoft.AspNetCore.Components;
using Nest.Core.Plans;
using Nest.Desk.Model;
using Nest.Output.Tablet;
using Nest.Rack;
using Nest.Rack.Plans;

namespace Nest.Desk.Pages;

/// <summary>What is cut, how far it is, and the way to the page for the saw.</summary>
public sealed partial class SawPage
{
    private string _title = "";
    private string _total = "";
    private string _problem = "";
    private string _missing = "";
    private bool _notOrdered;
    private string? _tablet;
    private JobFolder? _folder;
    private Plan? _plan;
    private PlanRecord? _record;
    private List<(int Number, string Title, string Done, string Time)> _rows = [];

    [Parameter]
    public string Name { get; set; } = "";

    protected override void OnParametersSet()
    {
        _folder = Shop.Job(Name);
        _plan = _folder is null ? null : Plans.Current(_folder);
        _title = _plan?.Job.Name ?? Name;
        if (_plan is not { } plan)
        {
            return;
        }

        var signed = Book.Signed(Name, Fingerprint.Of(plan));
        _tablet = signed is null ? null : Addresses.Tablet(Name, Fingerprint.Of(plan));
        var counts = signed is null ? null : Count(signed);
        var work = Plans.WorkOf(plan);
        _rows = [.. work.Items.Select(item => (item.Layout, LayoutCard.TitleOf(plan, plan.Layouts.First(one => one.Number == item.Layout)),
            counts is null ? "" : string.Create(CultureInfo.InvariantCulture, $"{counts.GetValueOrDefault(TabletServed.FinishedId(item.Layout))} of {item.Count}"), PlanView.Duration(item.Minutes)))];
        _total = PlanView.Duration(work.Items.Sum(item => item.Minutes));
    }

    private IReadOnlyDictionary<string, int> Count(Plan plan)
    {
        try
        {
            _record = Book.OnRack(plan);
            _missing = _record is { } record && RestRoom.WantsAnew(record) ? RestRoom.Missing(record) : "";
            return Book.Take(plan, [], "").Counts;
        }
        catch (RackException problem)
        {
            _problem = problem.Message;
            return new Dictionary<string, int>();
        }
    }

    private void PlanRest()
    {
        (_problem, var search) = Rests.Start(_folder!, _record!, _notOrdered);
        if (search is not null)
        {
            Navigation.NavigateTo(Addresses.Plan(Name));
        }
    }

    private void Reserve()
    {
        var problem = Orders.Reserve(_folder!, _plan!);
        OnParametersSet();
        _problem = problem;
    }

    private static string State(PlanState state) => state switch
    {
        PlanState.Reserved => "reserved, nothing cut yet",
        PlanState.Cutting => "being cut",
        PlanState.Finished => "all is cut",
        PlanState.Incomplete => "all is cut, but parts are missing",
        _ => "known there",
    };
}
