using Nest.Output;

namespace Nest.Cli.Commands;

/// <summary>Whether files can be written to a folder: asked before a search, so that no time is lost on a plan that cannot be kept.</summary>
internal static class OutputPlace
{
    /// <summary>Creates the folder, writes a file there and takes it away again; says what is wrong, if anything is.</summary>
    /// <param name="replace">Whether a plan there that is in use may be replaced.</param>
    public static bool CanWrite(World world, string folder, bool replace = false, string option = "--out")
    {
        if (Problem(folder) is not { } problem)
        {
            if (OutputFolder.WhyNot(folder, replace) is not { } why)
            {
                return true;
            }

            world.Error.WriteLine($"error: {option}: {why}; nothing was planned");
            return false;
        }

        world.Error.WriteLine($"error: {option}: cannot write into {folder}: {problem} — name another folder with {option}, or make room for it; nothing was planned");
        return false;
    }

    private static string? Problem(string folder)
    {
        try
        {
            for (var path = Path.GetFullPath(folder); path is not null; path = Path.GetDirectoryName(path))
            {
                if (File.Exists(path))
                {
                    return path == Path.GetFullPath(folder) ? "it is a file" : $"{path} is a file";
                }
            }

            Directory.CreateDirectory(folder);
            var probe = Path.Combine(folder, $".nest-{Guid.NewGuid():N}");
            try
            {
                File.WriteAllBytes(probe, [0]);
            }
            finally
            {
                File.Delete(probe);
            }

            return null;
        }
        catch (UnauthorizedAccessException)
        {
            return "permission denied";
        }
        catch (Exception fault) when (fault is IOException or ArgumentException or NotSupportedException)
        {
            return fault.Message;
        }
    }
}
