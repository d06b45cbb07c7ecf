using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Nest.Core.Jobs;

namespace Nest.Output.Folders;

/// <summary>Whether all that lies in a plan's folder is of the plan whose file lies there.</summary>
public static partial class FolderCheck
{
    /// <summary>Looks at every listed file.</summary>
    /// <param name="plan">The mark of the plan whose file is in the folder.</param>
    /// <param name="planName">That file's name within the folder.</param>
    /// <returns>Errors for what somebody could cut or buy by mistake, notes for the rest; empty when all is as it was written.</returns>
    public static ImmutableArray<Finding> Of(string folder, string plan, string planName)
    {
        if (FileList.In(folder) is not { } list)
        {
            return WithoutList(folder, plan, planName);
        }

        var findings = ImmutableArray.CreateBuilder<Finding>();
        if (list.Plan != plan)
        {
            findings.Add(Mixed(Path.Combine(folder, planName), $"the plan file is of plan {plan}, the sheets beside it are of plan {list.Plan}"));
        }

        foreach (var file in list.Files)
        {
            var path = Path.Combine(folder, file.Name);
            if (!File.Exists(path))
            {
                findings.Add(new(Severity.Note, "folder-file-missing", new(path), "the file was written with this plan and is not there any more"));
            }
            else if (FileList.HashOf(File.ReadAllBytes(path)) != file.Sha256)
            {
                findings.Add(IsTable(file.Name)
                    ? new(Severity.Note, "folder-file-changed", new(path), "the file was changed after it was written")
                    : Mixed(path, "the file is not the one that was written with this plan: it is of another plan, or was changed"));
            }
        }

        return findings.ToImmutable();
    }

    /// <summary>Plan and sheets of an older version, flat in one folder: only the tablet page says in text which plan it is of.</summary>
    private static ImmutableArray<Finding> WithoutList(string folder, string plan, string planName)
    {
        var tablet = Path.Combine(folder, "tablet.html");
        return File.Exists(tablet) && Mark().Match(File.ReadAllText(tablet)) is { Success: true } found && found.Groups[1].Value != plan
            ? [Mixed(tablet, $"the sheets are of plan {found.Groups[1].Value}, {planName} is of plan {plan}: writing was broken off")]
            : [];
    }

    private static Finding Mixed(string path, string what) =>
        new(Severity.Error, "folder-mixed", new(path), what, "cut and order nothing by these sheets; plan the job again into a new folder");

    private static bool IsTable(string name) => name.EndsWith(".csv", StringComparison.Ordinal) || name.EndsWith(".xlsx", StringComparison.Ordinal);

    [GeneratedRegex("data-plan=\"([A-Z0-9]+)\"")]
    private static partial Regex Mark();
}
