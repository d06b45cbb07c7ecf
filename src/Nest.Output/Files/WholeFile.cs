namespace Nest.Output.Files;

/// <summary>Writes files whole or not at all: under a temporary name first, then moved.</summary>
public static class WholeFile
{
    /// <summary>Ends the temporary names.</summary>
    internal const string Temporary = ".nest-part";

    /// <summary>Writes one file and has the disk confirm it.</summary>
    public static void Write(string path, byte[] bytes)
    {
        var temporary = path + Temporary;
        try
        {
            using (var stream = new FileStream(temporary, FileMode.Create, FileAccess.Write))
            {
                stream.Write(bytes);
                stream.Flush(flushToDisk: true);
            }

            File.Move(temporary, path, overwrite: true);
        }
        finally
        {
            File.Delete(temporary);
        }
    }

    /// <summary>Writes several files: all under temporary names, then all are moved; a full disk leaves the earlier ones whole.</summary>
    /// <returns>Their names.</returns>
    public static IReadOnlyList<string> WriteAll(string folder, IEnumerable<(string Name, byte[] Bytes)> files)
    {
        var written = new List<string>();
        try
        {
            foreach (var (name, bytes) in files)
            {
                written.Add(name);
                File.WriteAllBytes(Path.Combine(folder, name + Temporary), bytes);
            }

            foreach (var name in written)
            {
                File.Move(Path.Combine(folder, name + Temporary), Path.Combine(folder, name), overwrite: true);
            }
        }
        finally
        {
            foreach (var name in written)
            {
                File.Delete(Path.Combine(folder, name + Temporary));
            }
        }

        return written;
    }
}
