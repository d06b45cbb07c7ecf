namespace Nest.RackStress; internal static class Program { public static int Main() => 0; }
