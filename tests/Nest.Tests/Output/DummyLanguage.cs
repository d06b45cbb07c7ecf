using System.Collections.Immutable;
using System.Reflection;
using System.Text;
using Nest.Core.Plans;
using Nest.Output.Texts;

namespace Nest.Tests.Output;

/// <summary>A language that nobody speaks: every text of the table in Cyrillic letters and longer by 40 % (what a translation from
/// English may need; common practice, no source). And plans whose own names are Greek: so a Latin word on a page is one that was not
/// translated.</summary>
internal static class DummyLanguage
{
    private const string Cyrillic = "абцдефгхийклмнопярстувшжуз";
    private const string Greek = "αβκδεφγηιξκλμνοπθρστυωωχψζ";

    public static SheetTexts Texts { get; } = Make();

    public static IEnumerable<PropertyInfo> Table => typeof(SheetTexts).GetProperties().Where(property => property.PropertyType == typeof(string) && property.CanWrite);

    private static SheetTexts Make()
    {
        var texts = SheetTexts.English with { Language = "ru" };
        foreach (var property in Table.Where(property => property.Name != nameof(SheetTexts.Language)))
        {
            property.SetValue(texts, Say((string)property.GetValue(texts)!));
        }

        return texts;
    }

    /// <summary>Letters become Cyrillic but not what is filled in, <c>{0}</c>; then every word grows by two letters in five.</summary>
    public static string Say(string text)
    {
        var said = new StringBuilder();
        var (hole, letters) = (0, 0);
        foreach (var c in text)
        {
            hole += c == '{' ? 1 : c == '}' ? -1 : 0;
            var letter = hole == 0 && char.IsAsciiLetter(c);
            said.Append(letter ? In(c, Cyrillic) : c);
            letters += letter ? 2 : 0;
            for (; letters >= 5; letters -= 5)
            {
                said.Append('ю');
            }
        }

        return said.Append('ю', (letters + 2) / 5).ToString();
    }

    /// <summary>The plan with Greek for everything that a user has named.</summary>
    public static Plan Greeked(Plan plan)
    {
        var job = plan.Job;
        return plan with
        {
            Job = job with
            {
                Name = Name(job.Name),
                Materials = [.. job.Materials.Select(material => material with { Id = Name(material.Id) })],
                Parts = [.. job.Parts.Select(part => part with { Id = Name(part.Id), MaterialId = Name(part.MaterialId) })],
                Stocks = [.. job.Stocks.Select(stock => stock with
                {
                    Id = Name(stock.Id), MaterialId = Name(stock.MaterialId), RackMark = stock.RackMark is { } mark ? Name(mark) : null,
                    Place = stock.Place is { } place ? Name(place) : null, Supplier = stock.Supplier is { } supplier ? Name(supplier) : null,
                    CutFor = stock.CutFor is { } part ? Name(part) : null,
                })],
                Suppliers = [.. job.Suppliers.Select(supplier => supplier with { Name = Name(supplier.Name) })],
                Saws = [.. job.Saws.Select(saw => saw with { Id = Name(saw.Id) })],
            },
            Layouts = [.. plan.Layouts.Select(layout => layout with
            {
                StockId = Name(layout.StockId), SawId = Name(layout.SawId),
                Pieces = [.. layout.Pieces.Select(piece => piece with { PartId = Name(piece.PartId) })],
            })],
            Orders = [.. plan.Orders.Select(order => order with
            {
                Supplier = Name(order.Supplier), Lines = [.. order.Lines.Select(line => line with { StockId = Name(line.StockId) })],
            })],
            PartCosts = [.. plan.PartCosts.Select(cost => cost with { PartId = Name(cost.PartId) })],
        };
    }

    private static string Name(string name) => string.Concat(name.Select(c => char.IsAsciiLetter(c) ? In(c, Greek) : c));

    private static char In(char letter, string alphabet)
    {
        var mapped = alphabet[char.ToLowerInvariant(letter) - 'a'];
        return char.IsUpper(letter) ? char.ToUpperInvariant(mapped) : mapped;
    }
}
