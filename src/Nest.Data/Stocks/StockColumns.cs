using Nest.Core.Quantities;
using Nest.Data.Csv;

namespace Nest.Data.Stocks;

/// <summary>Heads of the columns that catalogues, price lists, leftovers beside a job and tables of the rack share, so that a shop writes
/// them alike everywhere.</summary>
internal static class StockColumns
{
    public const string Size = "size";

    public static readonly string[] Sizes = ["length", "width", "thickness", "diameter", SectionCells.Wall, SectionCells.Flange, Size];

    public static Column GoodFaces { get; } = new("good faces", false, "machined faces");

    /// <summary>What a piece is and how large.</summary>
    public static IReadOnlyList<Column> Kind { get; } =
    [
        new("form", true, "shape", "product", "product form", "profile", "halbzeug", "profil", "forme", "produit", "forma", "producto") { Key = true, Looks = text => Words.FormOf(text) is not null },
        new("material", true, "alloy", "grade", "mat", "material grade", "werkstoff", "legierung", "qualität", "matière", "nuance", "alliage", "aleación", "calidad") { Key = true },
        new("thickness", false, "t", "thk", "thick", "height", "h", "second side", "second leg", "höhe", "hauteur", "altura", "dicke", "stärke", "épaisseur", "espesor", "grosor") { Kind = ColumnKind.Length, Key = true },
        new("width", false, "w", "side", "wid", "across flats", "a/f", "af", "schlüsselweite", "sw", "sur plats", "entre caras", "leg", "schenkel", "breite", "largeur", "ancho") { Kind = ColumnKind.Length, Key = true },
        new("diameter", false, "dia", "d", "diam", "Ø", "od", "durchmesser", "diamètre", "diámetro") { Kind = ColumnKind.Length, Key = true },
        new("length", false, "l", "len", "long", "stock length", "länge", "longueur", "largo", "longitud") { Kind = ColumnKind.Length, Key = true },
        new(Size, false, "sizes", "dimension", "dimensions", "dims", "section", "abmessung", "abmessungen", "querschnitt", "taille", "section mm", "medida", "medidas", "dimensiones")
        {
            Kind = ColumnKind.Size, Key = true, Looks = SizeText.LooksLikeSize,
        },
        .. SectionCells.Columns,
        .. SectionMass.Columns,
    ];

    /// <summary>What a shop knows of a piece that it has.</summary>
    public static IReadOnlyList<Column> OfPiece { get; } =
    [
        new("clean edges", false, "clean"),
        new("keep outs", false, "damage", "holes"),
        GoodFaces,
        new("place", false, "shelf", "location", "bin", "where", "lagerplatz", "ort", "emplacement", "ubicación"),
        new("value", false, "cost", "wert", "valeur", "valor") { Kind = ColumnKind.Number },
        new("note", false, "remark", "notes", "remarks", "comment", "bemerkung", "remarque", "nota", "observaciones"),
    ];
}
