namespace Nest.EndToEnd;

/// <summary>A job that is planned in a moment, for tests of what is around a plan: one bar to choose from, where the starter catalogue has dozens.</summary>
internal static class SmallJob
{
    /// <returns>The job file.</returns>
    public static string Write(Run run)
    {
        run.Write("parts.csv", "part,material,length,width,thickness,quantity,forms\nlug,6082-T6,50,30,8,12,any\n");
        // An invented price.
        run.Write("metal.csv", "id,form,material,thickness,width,length,price\nbar,flat bar,6082-T6,12,40,1000,9\n");
        return run.Write("job.toml", "unit = \"mm\"\nparts = \"parts.csv\"\nsaws = \"starter\"\ncatalogue = \"metal.csv\"\n");
    }
}
