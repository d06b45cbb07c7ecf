using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Components;
using Nest.Core.Jobs;
using Nest.Desk.Model;
using Nest.Planning;

namespace Nest.Desk.Pages;

/// <summary>Several jobs in one plan: each with its number of sets, searched as one, and kept as a folder of its own.</summary>
public sealed partial class TogetherPage
{
    private sealed class Wanted(JobFolder folder, int sets)
    {
        public JobFolder Folder => folder;

        public int Sets { get; set; } = sets;
    }

    private IReadOnlyList<Wanted> _wanted = [];
    private ImmutableArray<Finding> _findings = [];
    private string _name = "";
    private string _status = "";
    private double _seconds = PlanOptions.DefaultSeconds;
    private Search? _search;
    private SearchView? _view;
    private IDisposable? _listening;

    /// <summary>Names of the jobs' folders.</summary>
    [SupplyParameterFromQuery(Name = "job")] public string[]? Jobs { get; set; }

    public void Dispose() => _listening?.Dispose();

    protected override void OnParametersSet()
    {
        var folders = Room.Folders(Jobs ?? []);
        if (_wanted.Select(one => one.Folder.Name).SequenceEqual(folders.Select(folder => folder.Name)))
        {
            return;
        }

        _wanted = [.. folders.Select(folder => new Wanted(folder, TogetherRoom.SetsOf(folder)))];
        _name = TogetherRoom.NameOf(folders);
        if (Searches.Of(_name) is { } search)
        {
            Listen(search);
        }
    }

    private IReadOnlyList<(JobFolder Folder, int Sets)> Asked => [.. _wanted.Select(one => (one.Folder, Math.Clamp(one.Sets, 1, 100_000)))];

    private void Start()
    {
        (var search, _findings) = Room.Start(Asked, new() { Seconds = Math.Clamp(_seconds, 1, 3600) });
        if (search is not null)
        {
            Listen(search);
        }
    }

    private void Stop() => _search?.Stop();

    private void Keep() => _status = Room.Keep(Asked, _search!, false);

    private void Listen(Search search)
    {
        _listening?.Dispose();
        _search = search;
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
        _findings = view.Result is { Plan: null } refused ? refused.Findings : _findings;
        _status = view switch
        {
            { State: SearchState.Waiting } => DeskTexts.Waiting,
            { State: SearchState.Running, Plan: not null } => DeskTexts.TogetherStudies,
            { State: SearchState.Running, Points: [.., var last] } => string.Create(CultureInfo.InvariantCulture, $"{last.Seconds:0} s: {last.Cost.Amount:0.00}"),
            { State: SearchState.Running } => DeskTexts.FirstPlan,
            { State: SearchState.Done } => "Done. The plan was checked.",
            _ => "",
        };
    }
}
