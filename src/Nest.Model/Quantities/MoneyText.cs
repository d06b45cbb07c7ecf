namespace Nest.Core.Quantities;

/// <summary>Amounts with their currency, to the cent: <c>EUR 12.30</c>. Culture plays no part.</summary>
public static class MoneyText
{
    public static string Format(Money money, string currency) => $"{currency} {money}";
}
