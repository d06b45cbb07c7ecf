namespace Nest.Core.Jobs;

/// <summary>A tax on what is sold or bought.</summary>
/// <param name="Percent">Of the amount before it.</param>
/// <param name="Name">As printed: VAT, sales tax.</param>
public sealed record SalesTax(decimal Percent, string Name)
{
    /// <summary>On an amount, rounded to the cent, half away from zero.</summary>
    public decimal On(decimal amount) => decimal.Round(amount * Percent / 100m, 2, MidpointRounding.AwayFromZero);
}
