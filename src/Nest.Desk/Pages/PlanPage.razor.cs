using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Components;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Data.Toml;
using Nest.Desk.Model;
using Nest.Planning;

namespace Nest.Desk.Pages;

/// <summary>Searches for a job's plan and shows it: cost and bound as they come together, then the layouts.</summary>
public sealed partial class PlanPage
{
    private string _title = "";
    private string _status = "";
    private bool _missing;
    private double _seconds = PlanOptions.DefaultSeconds;
    private double _searchSeconds = PlanOptions.DefaultSeconds;
    private int _sets = 1;
    private ImmutableArray<Finding> _findings = [];
    private JobInput? _given;
    private JobFolder? _folder;
    private SearchView? _view;
    private Plan? _plan;
    private Search? _search;
    private IDisposable? _listening;
    private bool _askReplace;
    private HashSet<int> _locked = [];
    private string? _readFor;

    [Parameter]
    public string Name { get; set; } = "";

    public void Dispose() => _listening?.Dispose();

    protected override void OnParametersSet()
    {
        _title = Name;
        _folder = Shop.Job(Name);
        _missing = _folder is null;
        if (_folder is null)
        {
            return;
        }

        ReadJob();
        _plan = Plans.Saved(_folder)?.Plan;
        if (Searches.Of(Name) is { } search)
        {
            Listen(search);
        }

        Lock(_plan);
    }

    private void ReadJob()
    {
        (_given, _findings) = Desk.Read(_folder!);
        if (_given is { } given)
        {
            // What was typed for this job stays.
            (_title, _seconds) = (given.Job.Name, _readFor == Name ? _seconds : given.Seconds ?? PlanOptions.DefaultSeconds);
            (_sets, _readFor) = (given.Job.Batch, Name);
        }
    }

    /// <summary>Layouts that an earlier search was told to keep stay chosen.</summary>
    private void Lock(Plan? plan) => _locked = plan?.Layouts.Where(layout => layout.Kept).Select(layout => layout.Number).ToHashSet() ?? [];

    private void Changed(string told)
    {
        ReadJob();
        _status = told;
    }

    private void Hold(int number, bool hold)
    {
        _ = hold ? _locked.Add(number) : _locked.Remove(number);
        _status = $"{DeskTexts.Layout} {number} {(hold ? DeskTexts.Stays : DeskTexts.IsFree)}. {DeskTexts.PlanAgainToSee}";
    }

    private string ChartLabel => _view is { Points: [.., var last] }
        ? string.Create(CultureInfo.InvariantCulture, $"{DeskTexts.Cost} {last.Cost.Amount:0.00}; {DeskTexts.Bound} {(last.Bound.Value is { } bound ? bound.ToString() : "not known")}")
        : DeskTexts.FirstPlan;

    private void Start()
    {
        if (_given is not { } given)
        {
            return;
        }

        var sets = Math.Clamp(_sets, 1, 100_000);
        if (sets != given.Job.Batch)
        {
            // Into the job's file: the command line plans the same batch then.
            var problem = JobText.Change(_folder!, text => TomlText.With(text, "batch", sets.ToString(CultureInfo.InvariantCulture)));
            ReadJob();
            if (problem.Length > 0 || _given is null)
            {
                _status = problem;
                return;
            }

            given = _given;
        }

        var job = given.Job;
        if (_locked.Count > 0 && _plan is { } from)
        {
            var (kept, problems) = KeptLayouts.On(job, from, _locked);
            if (kept is null)
            {
                _status = string.Join("; ", problems) + ".";
                return;
            }

            job = kept;
        }

        Listen(Searches.Start(Name, given with { Job = job }, new() { Seconds = Math.Clamp(_seconds, 1, 3600) }, _plan, texts: Variants.Texts(_folder!)));
    }

    private void Stop() => _search?.Stop();

    private void Keep(bool replace)
    {
        if (_folder is not { } folder || _view?.Plan is not { } plan || _given is not { } given)
        {
            return;
        }

        var rest = _search?.RestOf;
        var kept = rest is { } old ? Rests.Keep(old, plan, folder, given) : PlanKeeper.Keep(plan, folder, given, Plans.WorkOf(plan), Shop.SharedAddress(Addresses.Tablets(Name)), replace, _search?.Without ?? []);
        _askReplace = kept is { InUse: true } && !replace;
        if (rest is not null && kept.Problem.Length == 0)
        {
            _listening?.Dispose();
            (_search, _view) = (null, null);
        }

        _status = kept.Problem.Length > 0 ? kept.Problem : $"Written to the folder {Path.GetFileName(folder.Path)}/{Path.GetFileName(folder.Output)}.";
    }

    private void Listen(Search search)
    {
        _listening?.Dispose();
        _search = search;
        _searchSeconds = search.Seconds;
        (var now, _listening) = search.Subscribe(new SteadyRedraw(InvokeAsync, Redraw).Ask);
        Show(now);
    }

    private void Redraw()
    {
        if (_search is { } search)
        {
            Show(search.Now);
            StateHasChanged();
        }
    }

    private void Show(SearchView view)
    {
        _view = view;
        if (view.Result is { } result)
        {
            if (result.Plan is { } found && !ReferenceEquals(found, _plan))
            {
                _plan = found;
                Lock(found);
            }

            _findings = result.Plan is null ? result.Findings : _findings;
        }

        _status = view switch
        {
            { State: SearchState.Waiting } => DeskTexts.Waiting,
            { State: SearchState.Running, Stopping: true } => "Stopping with the best plan so far …",
            { State: SearchState.Running, Points: [] } => DeskTexts.FirstPlan,
            { State: SearchState.Running, Points: [.., var last] } => string.Create(
                CultureInfo.InvariantCulture, $"{last.Seconds:0} s: {_given?.Job.Currency} {last.Cost.Amount:0.00}{(last.Bound.Value is { } least ? $", nothing is cheaper than {least}" : "")}"),
            { State: SearchState.Done } => "Done. The plan was checked and may be signed.",
            _ => "",
        };
    }
}
