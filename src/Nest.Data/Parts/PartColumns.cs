using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Models;
using Nest.Data.Stocks;

namespace Nest.Data.Parts;

/// <summary>Columns of a parts list, with their usual heads in English, German, French and Spanish.</summary>
internal static class PartColumns
{
    public const string Size = "size";

    public static readonly Column[] All =
    [
        new("part", true,
            "part no", "part number", "part no.", "part #", "part id", "name", "part name", "id", "drawing", "drawing no", "dwg", "dwg no", "component", "description", "part description", "item", "item no", "item name",
            "teil", "teilenummer", "teile-nr", "teil-nr", "teilename", "zeichnungsnummer", "zeichnung", "bauteil", "benennung", "bezeichnung", "artikel", "werkstück",
            "pièce", "référence", "repère", "désignation", "nom", "pieza", "referencia", "código", "denominación", "descripción") { Key = true, Ranked = true, Unless = ModelRows.Model },
        new("material", true,
            "alloy", "grade", "mat", "matl", "mat'l", "material grade", "material spec", "werkstoff", "werkstoffnummer", "legierung", "qualität", "matière", "matériau", "nuance", "alliage", "material/grade",
            "aleación", "calidad", "materiales") { Key = true, Unless = ModelRows.Model },
        new("length", false,
            "l", "len", "lg", "lgth", "long", "finished length", "länge", "laenge", "fertiglänge", "longueur", "largo", "longitud", "lunghezza") { Kind = ColumnKind.Length, Key = true },
        new("width", false,
            "w", "wid", "wdth", "across flats", "a/f", "af", "schlüsselweite", "sw", "sur plats", "entre caras", "finished width", "breite", "b", "largeur", "ancho", "anchura") { Kind = ColumnKind.Length, Key = true },
        new("thickness", false,
            "t", "thk", "thick", "th", "height", "h", "finished thickness", "dicke", "stärke", "staerke", "höhe", "hoehe", "épaisseur", "ép", "ep", "hauteur", "espesor", "grosor", "grueso", "altura") { Kind = ColumnKind.Length, Key = true },
        new("diameter", false,
            "dia", "d", "diam", "Ø", "od", "outside diameter", "durchmesser", "durchm", "diamètre", "diámetro") { Kind = ColumnKind.Length, Key = true },
        new(Size, false,
            "sizes", "dimension", "dimensions", "dims", "dim", "finished size", "finish size", "part size", "overall size", "l x w x t", "t x w x l", "lxwxt", "txwxl", "l x w x h", "lxwxh", "abmessung", "abmessungen",
            "fertigmaß", "fertigmaße", "größe", "groesse", "taille", "cotes", "medida", "medidas", "dimensión", "dimensiones", "tamaño") { Kind = ColumnKind.Size, Key = true, Looks = SizeText.LooksLikeSize },
        .. SectionCells.Columns,
        new("quantity", true,
            "qty", "qty.", "qnty", "quant", "count", "pieces", "pcs", "pc", "no off", "no. off", "off", "nos", "number of pieces", "qty per set", "qty / set", "quantity per set", "qty each", "qty per", "qty req", "qty req'd",
            "qty reqd", "qty required", "quantity required", "req'd", "reqd", "required", "needed", "qty needed", "per set", "pcs per set", "pieces per set", "qty per assembly", "qty/assy", "qty per assy", "qty/unit",
            "anzahl", "menge", "stück", "stk", "stückzahl", "stueckzahl", "stück pro satz", "anzahl pro satz", "quantité", "qté", "qte", "nombre de pièces", "nb", "nbre", "cantidad", "cant", "cant.", "uds", "unidades", "piezas",
            "número de piezas") { Kind = ColumnKind.Whole, Key = true },
        new("extra", false, "spare", "spares", "set-up pieces", "ersatz", "reserve", "zusatz", "rechange", "repuesto", "repuestos") { Kind = ColumnKind.Whole },
        new("free spares", false,
            "spares if free", "free spare", "spares for free", "spares from scrap", "freie ersatzteile", "ersatz aus verschnitt", "ersatz wenn frei", "rechanges gratuits", "rechanges dans les chutes", "repuestos gratis",
            "repuestos de recortes") { Kind = ColumnKind.Whole },
        new(ModelRows.Model, false, "file", "model file", "cad", "cad file", "modell", "datei", "modèle", "fichier", "modelo", "archivo") { Key = true, Looks = ModelReader.IsModel },
        new(ModelRows.LieColumn, false, "lies", "lying", "lage"),
        new("forms", false, "form", "stock form", "from", "made from", "raw form", "halbzeug", "rohform", "profil", "forme", "forma") { Looks = text => Words.FormsOf(text, out _) is not null },
        new("turn", false, "may turn", "rotate", "rolling direction", "drehen", "walzrichtung"),
        new("holding", false, "hold", "held by", "spannung", "aufspannung"),
        new("faces stay", false) { Was = ["mill faces", "stock faces"] },
        new("sides stay", false) { Was = ["mill sides", "stock sides"] },
        new("side clean-up", false, "side cleanup", "side allowance") { Kind = ColumnKind.Length },
        new("end clean-up", false, "end cleanup", "end allowance") { Kind = ColumnKind.Length },
        new("face top", false, "top facing") { Kind = ColumnKind.Length },
        new("face bottom", false, "bottom facing") { Kind = ColumnKind.Length },
        new("grip", false, "vise grip") { Kind = ColumnKind.Length },
        new(AngleCells.Start, false, "start angle", "mitre start", "miter start", "left angle") { Kind = ColumnKind.Number },
        new(AngleCells.End, false, "end angle", "mitre end", "miter end", "right angle") { Kind = ColumnKind.Number },
        new(AngleCells.Across, false, "mitre across", "miter across"),
        new(LimitCells.Shrink, false, "darf schrumpfen", "darf kleiner", "peut diminuer", "puede menguar"),
        new(LimitCells.Grow, false, "darf wachsen", "darf größer", "peut augmenter", "puede crecer"),
        new(GangCells.Count, false, "parts per blank", "pieces per blank"),
        new(GangCells.Gap, false, "gap between parts") { Kind = ColumnKind.Length },
        new(GangCells.With, false, "other hand"),
        new("mill minutes", false, "machining minutes", "minutes each") { Kind = ColumnKind.Number },
        new("set-up minutes", false, "setup minutes") { Kind = ColumnKind.Number },
        new("set-ups", false, "setups", "set-ups at the mill") { Kind = ColumnKind.Whole },
        new("one stock", false, "from one stock"),
        new("one size", false, "one blank size"),
        new("certificate", false, "certificate needed", "mill certificate", "material certificate"),
        new("note", false, "notes", "remark", "remarks", "comment", "comments", "bemerkung", "bemerkungen", "anmerkung", "hinweis", "remarque", "remarques", "observation", "nota", "notas", "observaciones", "observación") { Ranked = true },
    ];

    public static readonly string[] Sizes = ["length", "width", "thickness", "diameter", SectionCells.Wall, SectionCells.Flange, Size];
}
