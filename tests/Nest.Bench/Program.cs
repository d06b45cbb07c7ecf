namespace Nest.Bench; internal static class Program { public static int Main() => 0; }
