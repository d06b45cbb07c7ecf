using Nest.Fuzz;

namespace Nest.Tests.Models;

/// <summary>Changed files never throw: a short run of what <c>tests/Nest.Fuzz -- models</c> does at length.</summary>
public class ModelFuzzTest
{
    [Fact]
    public void Changed_models_are_read_or_refused()
    {
        var told = new List<string>();
        new ModelFuzz(ModelFiles.Folder).Run(20260101, 1000, told.Add).Should().BeEmpty("{0}", string.Join("\n", told));
    }
}
