using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;

namespace Nest.Desk.Parts;

/// <summary>After a change of the page its head gets the focus, so that a screen reader begins there; not where somebody is in the page already.</summary>
/// <remarks>The framework's own component for it asks nobody: on a busy machine it comes late, and takes away the cell in which somebody has begun to type.</remarks>
public sealed class HeadFocus : ComponentBase
{
    private Type? _page;
    private bool _due;

    [Parameter, EditorRequired] public RouteData Route { get; set; } = null!;

    [Inject] private IJSRuntime Script { get; set; } = null!;

    protected override void OnParametersSet()
    {
        _due |= Route.PageType != _page;
        _page = Route.PageType;
    }

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (_due)
        {
            _due = false;
            await Script.InvokeVoidAsync("focusHead");
        }
    }
}
