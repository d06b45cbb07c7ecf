using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Stocks;
using Nest.Data.Tables;

namespace Nest.Data.Racks;

/// <summary>The materials that a command of the rack knows: the embedded starter list and, where given, a file of the shop.</summary>
public sealed class ShopMaterials
{
    private readonly MaterialBook book;

    private ShopMaterials(MaterialBook book) => this.book = book;

    public ImmutableArray<Material> All => [.. book.All];

    internal MaterialBook Book => book;

    /// <param name="path">The shop's own list of materials; null: the starter list alone.</param>
    public static ReadResult<ShopMaterials> Load(string? path)
    {
        var findings = new FindingList();
        var book = new MaterialBook();
        Starter.ReadMaterials(book, findings);
        if (path is not null)
        {
            MaterialsReader.ReadFile(path, new(LengthUnit.Millimetre, null), TableChoices.None, book, findings);
        }

        return findings.Result(findings.Errors > 0 ? null : new ShopMaterials(book));
    }

    /// <summary>The material of this name or alias.</summary>
    public Material? Find(string name) => book.Find(name);

    /// <summary>What a mistyped name may have meant, or the known names.</summary>
    public string Hint(string name) => Near.Hint(name, book.Names) is { Length: > 0 } hint
        ? hint
        : $"use one of {string.Join(", ", book.All.Select(known => known.Id))}, or name a list with --materials";
}
