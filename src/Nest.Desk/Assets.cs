using System.Reflection;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Nest.Desk.Security;
using Nest.Output.Tablet;

namespace Nest.Desk;

/// <summary>Style and scripts, carried inside the program: nothing is asked of any other server.</summary>
internal static class Assets
{
    private static readonly (string Path, string Name, string Kind)[] All =
    [
        ("/assets/desk.css", "desk.css", "text/css"),
        ("/assets/desk.js", "desk.js", "text/javascript"),
        ("/_framework/blazor.web.js", "blazor.web.js", "text/javascript"),
    ];

    public static void Map(WebApplication app)
    {
        // The pages of devices have these alone.
        app.MapGet(SawPages.Style, () => Results.Bytes(TabletServed.StyleBytes, "text/css")).AllowAnonymous().WithMetadata(new ForDevices());
        app.MapGet(SawPages.Script, () => Results.Bytes(TabletServed.ScriptBytes, "text/javascript")).AllowAnonymous().WithMetadata(new ForDevices());
        foreach (var (path, name, kind) in All)
        {
            var bytes = Bytes(name);
            // They hold nothing of the shop, and the page at the entrance needs the style.
            var asset = app.MapGet(path, () => Results.Bytes(bytes, kind)).AllowAnonymous();
            if (name == "desk.css")
            {
                asset.WithMetadata(new ForDevices());
            }
        }
    }

    private static byte[] Bytes(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream("desk/" + name)
            ?? throw new InvalidOperationException($"The program carries no {name}.");
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        return copy.ToArray();
    }
}
