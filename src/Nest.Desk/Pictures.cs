using System.Collections.Concurrent;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Nest.Core.Plans;
using Nest.Desk.Model;
using Nest.Output;

namespace Nest.Desk;

/// <summary>Pictures of layouts, from the same scenes as the sheets.</summary>
internal static class Pictures
{
    /// <summary>Address of a layout's picture in the plan that a page shows.</summary>
    public static string AddressOf(string job, string mark, int layout) => $"/pictures/{Uri.EscapeDataString(job)}/{mark}/{layout}.svg";

    public static void Map(WebApplication app) =>
        app.MapGet("/pictures/{job}/{mark}/{layout:int}.svg", (string job, string mark, int layout, Plans plans) =>
            plans.Find(job, mark) is { } plan && plan.Layouts.Any(one => one.Number == layout)
                ? Results.Bytes(LayoutDrawing.Bytes(plan, layout, PictureFormat.Svg, new() { Work = plans.WorkOf(plan) }), "image/svg+xml")
                : Results.NotFound());
}
