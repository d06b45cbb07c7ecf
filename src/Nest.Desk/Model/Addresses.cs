namespace Nest.Desk.Model;

/// <summary>Addresses of the pages: what a page shows is in its address, so that reloading, going back and a sent link work.</summary>
internal static class Addresses
{
    /// <summary>Several jobs in one plan; <c>?job=A&amp;job=B</c> names them.</summary>
    public const string Together = "/together";

    public static string Parts(string job) => $"/job/{Uri.EscapeDataString(job)}/parts";

    public static string Plan(string job) => $"/job/{Uri.EscapeDataString(job)}/plan";

    public static string Variants(string job) => $"{Plan(job)}/variants";

    public static string Order(string job) => $"/job/{Uri.EscapeDataString(job)}/order";

    public static string Saw(string job) => $"/job/{Uri.EscapeDataString(job)}/saw";

    public static string Layout(string job, int layout) => $"{Plan(job)}/layout/{layout}";

    /// <summary>The tablet page of a signed plan.</summary>
    public static string Tablet(string job, string mark) => $"{Tablets(job)}/{mark}";

    /// <summary>Under which the tablet pages of a job's plans are.</summary>
    public static string Tablets(string job) => $"/saw/{Uri.EscapeDataString(job)}";
}
