namespace Nest.Desk.Model;

/// <summary>The words of the pages, in one place for pages and tests.</summary>
internal static class DeskTexts
{
    public const string Jobs = "Jobs";
    public const string Job = "Job";
    public const string Rack = "Rack";
    public const string Rooms = "Rooms of the shop";
    public const string OfThisJob = "Of this job";
    public const string PartsHead = "Parts";
    public const string Sets = "Sets";
    public const string Plan = "Plan";
    public const string Order = "Order";
    public const string Saw = "Saw";
    public const string ToContent = "To the content";
    public const string NotHere = "There is no such page";
    public const string NoJobs = "No folder here holds a job file (job.toml). Make one with nest new, or copy an example.";
    public const string NoSuchJob = "There is no such job in this shop.";
    public const string ConnectionLost = "The connection to the desk is lost";
    public const string ConnectionHint = "Is the program still running? A search that was started goes on.";
    public const string LoadAgain = "Load again";
    public const string Start = "Plan it";
    public const string Again = "Plan again";
    public const string Stop = "Stop, keep the best";
    public const string Keep = "Sign and write the files";
    public const string Waiting = "Another search runs; this one is next.";
    public const string Seconds = "Seconds to search at most";
    public const string Cost = "Cost";
    public const string Bound = "Nothing is cheaper than";
    public const string Gap = "At most above the cheapest";
    public const string Searching = "Searching";
    public const string Layouts = "Layouts";
    public const string FirstPlan = "Looking for a first plan …";
    public const string LeaveOut = "Leave out";
    public const string Stock = "Stock";
}
