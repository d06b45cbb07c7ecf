using System.Globalization;
using Xunit.Abstractions;
using Xunit.Sdk;

namespace Nest.Browser;

/// <summary>A long run: a test only where NEST_LONG says for how many minutes. In the ordinary run it is not there, so that none is skipped.</summary>
[AttributeUsage(AttributeTargets.Method)]
[XunitTestCaseDiscoverer("Nest.Browser.LongDiscoverer", "Nest.Browser")]
public sealed class LongFactAttribute : FactAttribute
{
    public static double Minutes { get; } = double.TryParse(Environment.GetEnvironmentVariable("NEST_LONG"), CultureInfo.InvariantCulture, out var minutes) ? minutes : 0;
}

/// <summary>Finds the long runs that are asked for.</summary>
public sealed class LongDiscoverer(IMessageSink messages) : FactDiscoverer(messages)
{
    public override IEnumerable<IXunitTestCase> Discover(ITestFrameworkDiscoveryOptions discoveryOptions, ITestMethod testMethod, IAttributeInfo factAttribute) =>
        LongFactAttribute.Minutes > 0 ? base.Discover(discoveryOptions, testMethod, factAttribute) : [];
}
