using System.Text;
using Nest.Data;
using Nest.Data.Toml;
using Nest.Output.Files;
using Nest.Planning;

namespace Nest.Desk.Model;

/// <summary>Changes single settings of a job's file. What a person wrote beside them stays, and so does what an editor changed meanwhile: the file is read at the
/// moment of the change, and only the setting's own characters differ.</summary>
internal static class JobText
{
    private static readonly Lock Gate = new();
    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    /// <summary>The names of a list at the top of the job's file.</summary>
    public static IReadOnlyList<string> Names(JobFolder job, string key)
    {
        try
        {
            return TomlText.Names(File.ReadAllText(job.File), key);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return [];
        }
    }

    /// <param name="change">From the file's text to the changed one.</param>
    /// <returns>Why nothing was written; empty when it was.</returns>
    public static string Change(JobFolder job, Func<string, string> change)
    {
        lock (Gate)
        {
            try
            {
                var before = File.ReadAllBytes(job.File);
                if (Planner.Inspect(job.File).Findings.Any(finding => finding.Rule == "toml-syntax"))
                {
                    return $"{Path.GetFileName(job.File)} has to be mended first.";
                }

                var marked = before is [0xEF, 0xBB, 0xBF, ..];
                var text = change(Strict.GetString(before.AsSpan(marked ? 3 : 0)));
                byte[] after = [.. marked ? Encoding.UTF8.Preamble : [], .. Strict.GetBytes(text)];
                if (after.AsSpan().SequenceEqual(before))
                {
                    return "";
                }

                if (!File.ReadAllBytes(job.File).AsSpan().SequenceEqual(before))
                {
                    return "Another program changed the file at this moment: try again.";
                }

                WholeFile.Write(job.File, after);
                return "";
            }
            catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or DecoderFallbackException)
            {
                return $"Nothing was written: {problem.Message}";
            }
        }
    }
}
