namespace Nest.Solve.Choose;
internal static class StockPricers { public static IStockPricer For(Component component, int stock) => throw new NotSupportedException(); }
