namespace Nest.EndToEnd;

public class LayersTest { [Fact] public void T() => 1.Should().Be(1); }
