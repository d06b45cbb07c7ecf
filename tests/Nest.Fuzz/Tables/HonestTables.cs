namespace Nest.Fuzz.Tables;

/// <summary>What a table is read as.</summary>
public enum TableKind
{
    Parts,
    Prices,
    Rack,
}

/// <summary>Tables as people have them, to be changed.</summary>
public static class HonestTables
{
    private static readonly string[][][] Parts =
    [
        [["Crane head rev C"], [], ["Part", "Material", "Size (in)", "Qty / set", "Stock", "Weight"], ["tilt plate", "6061", "3/8 x 4 x 7-1/4", "2", "plate", "8,5"], ["pivot pin", "1018 CRS", "5/8 dia x 3-1/4", "3", "round", "0,3"], ["Total", "", "", "5", "", ""]],
        [["part", "material", "length (mm)", "width (mm)", "thickness (mm)", "quantity", "extra", "forms", "note"], ["a", "6061", "120.5", "62", "8", "4", "5%", "plate", "x"], ["b", "1018", "85", "40", "10", "num:7", "1", "bar", ""], ["c", "304", "1.250", "40", "10", "7", "", "", ""]],
        [["Teil", "Werkstoff", "Länge", "Breite", "Dicke", "Anzahl"], ["Lasche", "S235", "120,5", "62", "8", "4"], ["Klotz", "EN AW-6082", "1.250,5", "62", "8", "num:4"]],
        [["Maße in mm"], ["Pièce", "Matière", "Longueur", "Largeur", "Épaisseur", "Qté"], ["équerre", "316L", "120", "62", "8", "4"]],
        [["name", "alloy", "L", "W", "T", "dia", "qty"], ["pin", "304", "85", "", "", "16", "2"], ["f", "6061", "1 1/2\"", "4' 2\"", "50 thou", "", "2"]],
    ];

    private static readonly string[][][] Prices =
    [
        [["Alder Metals (invented), list 7"], ["all prices ex works"], ["Item", "Form", "Material", "Thickness (in)", "Width (in)", "Length (in)", "Price", "per"], ["A1", "plate", "6061", "1/2", "48", "96", "$310.00", "piece"], ["A2", "flat", "6061", "3/8", "4", "144", "$2.10", "ft"], ["A3", "round", "1018", "5/8", "", "144", "call", ""]],
        [["id", "form", "material", "thickness", "width", "diameter", "length", "min thickness", "width minus", "price", "per", "available", "supplier", "good faces", "source"], ["p", "plate", "6061", "12", "1000", "", "2000", "11,7", "", "1.250,50", "m2", "3", "", "yes", "x"], ["r", "round bar", "S235JR", "", "", "20", "3000", "", "0,1", "12,5", "100 kg", "num:7", "", "", ""]],
        [["Artikelnummer", "Form", "Werkstoff", "Maße in mm", "Preis", "Preiseinheit"], ["7", "Flach", "S235", "50x10x6000", "21,40 EUR", "kg"], ["8", "Rund", "304", "Ø20 x 3000", "3,20/m", ""]],
        [["item", "form", "alloy", "t", "w", "l", "Price/ft", "$ per lb", "price from 5", "10+", "breaks", "break rule", "line minimum", "cut to size", "charge per cut piece", "charge per cut"], ["a", "plate", "6061", "0.5", "48", "96", "", "3.10", "", "", "", "", "", "yes", "2", "1.5"], ["b", "flat", "304", "0.5", "2", "144", "4.20", "", "num:4", "3.5", "5: 38.50; 10: 35", "incremental", "25", "no", "", ""]],
    ];

    private static readonly string[][][] Rack =
    [
        [["mark", "form", "material", "length", "width", "thickness", "clean edges", "keep outs", "good faces", "place", "value", "note"], ["A1", "plate", "6061", "300", "200", "12.7", "left bottom", "10,8,2,2; 50,60,5,5", "yes", "R1", "3.95", "x"], ["S1", "square", "1018", "800", "20", "", "all", "", "", "R2", "", ""]],
        [["Our leftovers"], ["Mark", "Form", "Material", "Size (in)", "Qty", "Where"], ["", "plate", "6061", "1/2 x 10 x 12-1/4", "2", "shelf"], ["B7", "round", "1018", "5/8 dia x 30", "1", ""]],
        [["mark", "state", "form", "material", "length (mm)", "width (mm)", "thickness (mm)", "min length (mm)", "rolling", "heat", "certificate", "bought", "supplier", "origin", "value", "entered", "condition"], ["K3", "on rack", "flat bar", "304", "500.5", "50", "10", "499", "along length", "H7", "3.1", "no", "", "", "2", "2026-01-02", "good"]],
    ];

    public static IReadOnlyList<string[][]> Of(TableKind kind) => kind switch
    {
        TableKind.Prices => Prices,
        TableKind.Rack => Rack,
        _ => Parts,
    };
}
