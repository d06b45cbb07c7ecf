namespace Nest.Cli; internal static class Program { public static int Main() => 0; }
