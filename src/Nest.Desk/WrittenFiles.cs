using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Nest.Desk.Model;
using Nest.Output.Folders;

namespace Nest.Desk;

/// <summary>The files of a signed plan: only those that its list names, so that no address leads anywhere else.</summary>
internal static class WrittenFiles
{
    private static readonly Dictionary<string, string> Kinds = new(StringComparer.OrdinalIgnoreCase)
    {
        [".pdf"] = "application/pdf", [".csv"] = "text/csv; charset=utf-8", [".png"] = "image/png", [".svg"] = "image/svg+xml", [".dxf"] = "application/octet-stream",
        [".xlsx"] = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", [".json"] = "application/json", [".txt"] = "text/plain; charset=utf-8",
    };

    /// <summary>Names within the folder that may be opened, in the order they were written.</summary>
    public static IReadOnlyList<string> In(string folder) =>
        FileList.In(folder) is { } list ? [.. list.Files.Select(file => file.Name).Where(name => Kinds.ContainsKey(Path.GetExtension(name)))] : [];

    public static string AddressOf(string job, string name) => $"/files/{Uri.EscapeDataString(job)}/{string.Join('/', name.Split('/').Select(Uri.EscapeDataString))}";

    public static void Map(WebApplication app) => app.MapGet("/files/{job}/{**name}", (string job, string name, Shop shop) =>
        shop.Job(job) is { } folder && In(folder.Output).Contains(name, StringComparer.Ordinal)
            ? Results.File(Path.Combine(folder.Output, name), Kinds[Path.GetExtension(name)])
            : Results.NotFound());
}
