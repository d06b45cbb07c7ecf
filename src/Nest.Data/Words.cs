using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Data;

/// <summary>The words of the shop in input files, and what they mean. Case, spaces, hyphens and underscores don't matter.</summary>
internal static class Words
{
    /// <summary>Letters and digits in lower case, accents taken off: <c>Länge</c> and <c>lange</c> are one.</summary>
    public static string Fold(string text)
    {
        if (!System.Text.Ascii.IsValid(text))
        {
            text = Plain(text);
        }

        return string.Concat(text.Where(char.IsLetterOrDigit)).ToLowerInvariant();
    }

    private static string Plain(string text)
    {
        try
        {
            return string.Concat(text.Normalize(System.Text.NormalizationForm.FormD).Where(c => char.GetUnicodeCategory(c) != System.Globalization.UnicodeCategory.NonSpacingMark))
                .Replace("ß", "ss", StringComparison.Ordinal).Replace("Ø", "o", StringComparison.Ordinal).Replace("ø", "o", StringComparison.Ordinal);
        }
        catch (ArgumentException)
        {
            return text; // half of a surrogate pair: nothing that we know has one
        }
    }

    public static bool? YesNo(string text) => Fold(text) switch
    {
        "yes" or "y" or "true" or "1" or "x" or "free" or "ja" or "j" or "oui" or "si" => true,
        "no" or "n" or "false" or "0" or "fixed" or "nein" or "non" => false,
        _ => null,
    };

    public static Form? FormOf(string text) => Fold(text) switch
    {
        "plate" or "sheet" or "platte" or "blech" or "tafel" or "tole" or "plaque" or "chapa" or "placa" => Form.Plate,
        "flatbar" or "flat" or "rectangle" or "rectangularbar" or "rectbar" or "flach" or "flachstange" or "flachstahl" or "barreplate" or "plat" or "pletina" or "barraplana" => Form.FlatBar,
        "squarebar" or "square" or "sq" or "vierkant" or "vierkantstange" or "vierkantstahl" or "barrecarree" or "carre" or "cuadrado" or "barracuadrada" => Form.SquareBar,
        "roundbar" or "round" or "rod" or "rd" or "roundrod" or "rund" or "rundstange" or "rundstahl" or "barreronde" or "rond" or "redondo" or "barraredonda" => Form.RoundBar,
        "hexbar" or "hex" or "hexagon" or "hexagonal" or "hexagonbar" or "hexagonalbar" or "sechskant" or "sechskantstange" or "6kt" or "barrehexagonale" or "hexagonale" or "barrahexagonal" => Form.HexBar,
        "roundtube" or "roundtubing" or "tube" or "tubing" or "hss" or "pipe" or "chs" or "rohr" or "rundrohr" or "tuberond" or "tubo" or "tuboredondo" => Form.RoundTube,
        "rectangulartube" or "recttube" or "rectangulartubing" or "squaretube" or "squaretubing" or "sqtube" or "boxsection" or "boxtube" or "shs" or "rhs" or "vierkantrohr" or "quadratrohr" or "rechteckrohr" or "formrohr"
            or "tubecarre" or "tuberectangulaire" or "tubocuadrado" or "tuborectangular" => Form.RectangularTube,
        "angle" or "anglebar" or "angleiron" or "l" or "winkel" or "winkelprofil" or "winkelstahl" or "lprofil" or "corniere" or "angular" or "angulo" or "perfill" => Form.Angle,
        "channel" or "u" or "uchannel" or "cchannel" or "uprofil" or "ustahl" or "upn" or "profileenu" or "fereenu" or "canal" or "perfilu" => Form.Channel,
        "tee" or "t" or "teebar" or "tbar" or "tprofil" or "tstahl" or "profileent" or "fereent" or "perfilt" => Form.Tee,
        "profile" or "profil" or "extrusion" or "slottedprofile" or "nutprofil" or "aluprofil" or "konstruktionsprofil" or "perfil" => Form.Profile,
        _ => null,
    };

    /// <summary>The forms that a cell may name, for messages.</summary>
    public const string FormList = "plate, flat bar, square bar, round bar, hex bar, round tube, square tube, rectangular tube, angle, channel, tee or profile";

    /// <summary>A tube of which the word does not say whether it is round.</summary>
    public static bool IsPlainTube(string text) => Fold(text) is "tube" or "tubing" or "rohr" or "tubo" or "hss";

    /// <summary>One form or several behind each other; null names the word that is not one.</summary>
    public static Forms? FormsOf(string text, out string unknown)
    {
        var forms = Forms.None;
        unknown = "";
        foreach (var word in text.Split([',', ';', '|', '/', '+', '&'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            var more = Fold(word) switch
            {
                "any" or "all" => Forms.Any,
                "bar" or "bars" or "stange" or "barre" or "barra" => Forms.FlatBar | Forms.SquareBar | Forms.RoundBar,
                _ => FormOf(word) is { } form ? (Forms)(1 << (int)form) : Forms.None,
            };
            if (more == Forms.None)
            {
                unknown = word;
                return null;
            }

            forms |= more;
        }

        return forms == Forms.None ? Forms.Any : forms;
    }

    public static Lie? LieOf(string text) => Fold(text) switch
    {
        "any" or "all" or "free" => Lie.Any,
        "flat" or "onflat" => Lie.Flat,
        "asgiven" or "given" or "fixed" => Lie.AsGiven,
        _ => null,
    };

    public static Holding? HoldingOf(string text) => Fold(text) switch
    {
        "vise" or "vice" => Holding.Vise,
        "fixtureplate" or "fixture" => Holding.FixturePlate,
        "softjaws" or "softjaw" => Holding.SoftJaws,
        "chuck" or "collet" => Holding.Chuck,
        _ => null,
    };

    public static SawKind? SawKindOf(string text) => Fold(text) switch
    {
        "barsaw" => SawKind.BarSaw,
        "platesaw" => SawKind.PlateSaw,
        "cutter" => SawKind.Cutter,
        _ => null,
    };

    public static CutDirection? DirectionOf(string text) => Fold(text) switch
    {
        "along" or "rip" => CutDirection.Rip,
        "across" or "crosscut" => CutDirection.Crosscut,
        _ => null,
    };

    /// <summary>Edges by name: <c>all</c>, <c>none</c> or any of left, right, bottom, top.</summary>
    public static CleanEdges? EdgesOf(string text)
    {
        var edges = default(CleanEdges);
        foreach (var word in text.Split([',', ';', '|', '/', '+', ' '], StringSplitOptions.RemoveEmptyEntries))
        {
            switch (Fold(word))
            {
                case "none":
                    break;
                case "all":
                    edges = new(true, true, true, true);
                    break;
                case "left":
                    edges = edges with { Left = true };
                    break;
                case "right":
                    edges = edges with { Right = true };
                    break;
                case "bottom":
                    edges = edges with { Bottom = true };
                    break;
                case "top":
                    edges = edges with { Top = true };
                    break;
                default:
                    return null;
            }
        }

        return edges;
    }
}
