using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Nest.Desk.Pages;
using Nest.Planning;

namespace Nest.Desk.Model;

/// <summary>Does the work of the first page once before somebody asks for it, on another processor than the one that opens the door: code is compiled
/// when it is first used, and half of the wait for the first page is that.</summary>
/// <remarks>Nothing of what is found out here is shown or kept, so a fault here is none: the page itself meets it again and tells it.</remarks>
internal static class LookAhead
{
    /// <summary>Reads one job as the page of the jobs does.</summary>
    public static Task AtJobs(string folder) => Quietly(() =>
    {
        if (new Shop(folder).Jobs() is [var first, ..])
        {
            Planner.Read(first.File);
            if (first.PlanFile is { } plan)
            {
                Planner.Load(plan);
            }
        }

        return Task.CompletedTask;
    });

    /// <summary>Draws the page of the jobs for nobody.</summary>
    public static Task AtPage(IServiceProvider services) => Quietly(async () =>
    {
        var scope = services.CreateAsyncScope();
        await using (scope.ConfigureAwait(false))
        {
            var renderer = new HtmlRenderer(scope.ServiceProvider, scope.ServiceProvider.GetRequiredService<ILoggerFactory>());
            await using (renderer.ConfigureAwait(false))
            {
                await renderer.Dispatcher.InvokeAsync(async () => (await renderer.RenderComponentAsync<JobsPage>()).ToHtmlString()).ConfigureAwait(false);
            }
        }
    });

    private static Task Quietly(Func<Task> work) => Task.Run(async () =>
    {
        try
        {
            await work().ConfigureAwait(false);
        }
#pragma warning disable CA1031 // See the remarks: it is met and told again by whom it concerns.
        catch (Exception)
#pragma warning restore CA1031
        {
        }
    });
}
