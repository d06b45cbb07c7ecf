namespace Nest.Solve;

/// <summary>What all our calls of the CP-SAT solver have in common.</summary>
internal static class CpSat
{
    /// <summary>Parameters that begin every parameter text. Ctrl-C is ours: the solver would put its own handler of the interrupt in the
    /// place of the runtime's, and with solvers on several threads that handler ends the whole program.</summary>
    public const string Always = "catch_sigint_signal:false ";
}
