namespace Nest.Cli.Commands.Rack;

/// <summary>Writes a file whole or not at all.</summary>
internal static class WholeFile
{
    public static void Write(string path, byte[] bytes)
    {
        var temporary = path + ".nest-part";
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
}
