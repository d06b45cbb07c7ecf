using System.Globalization;
using System.Text;
using Nest.Output.Draw;

namespace Nest.Output.Tablet;

/// <summary>One screen of the tablet page: a movement that is made <see cref="Count"/> times, then it is done.</summary>
internal sealed record TabletStep
{
    /// <summary>Names the step within its plan: what a tick is kept under.</summary>
    public required string Id { get; init; }

    /// <summary>Times that it is made, over all stock pieces that are cut alike.</summary>
    public int Count { get; init; } = 1;

    /// <summary>Times for one stock piece or stack.</summary>
    public int Each { get; init; } = 1;

    /// <summary>Numbers of the first and the last cut in the picture; 0: none.</summary>
    public (int First, int Last) Cuts { get; init; }

    /// <summary>Mark of the offcut that is lit in the picture; empty: none.</summary>
    public string Keep { get; init; } = "";

    /// <summary>What is on the saw, and how.</summary>
    public string Kind { get; init; } = "";

    /// <summary>A setting in digits, as HTML, or words.</summary>
    public string Figure { get; init; } = "";

    /// <summary>Whether the figure is digits to set a stop by: they are as large as the screen allows.</summary>
    public bool Digits { get; init; }

    /// <summary>Beside the figure: from which edge, whether the stop is set again.</summary>
    public IReadOnlyList<string> Beside { get; init; } = [];

    /// <summary>What must not be overlooked.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>What comes off, and where it goes.</summary>
    public IReadOnlyList<string> Lines { get; init; } = [];

    /// <summary>Whether something is set again for it.</summary>
    public bool Fresh { get; init; }

    public void Write(StringBuilder html)
    {
        html.Append(CultureInfo.InvariantCulture, $"<article class=\"step{(Fresh ? " fresh" : "")}\" id=\"{Id}\" data-count=\"{Count}\" data-each=\"{Each}\"");
        if (Cuts.First > 0)
        {
            html.Append(CultureInfo.InvariantCulture, $" data-first=\"{Cuts.First}\" data-last=\"{Cuts.Last}\"");
        }

        if (Keep.Length > 0)
        {
            html.Append(CultureInfo.InvariantCulture, $" data-keep=\"{E(Keep)}\"");
        }

        html.Append(CultureInfo.InvariantCulture, $">\n<a class=\"open\" href=\"#{Id}\"><span class=\"tally\">{(Count == 1 ? "□" : "□ × " + Count.ToString(CultureInfo.InvariantCulture))}</span></a>\n<div class=\"what\">");
        Paragraphs(html, "kind", Kind.Length > 0 ? [Kind] : []);
        if (Figure.Length > 0 || Beside.Count > 0)
        {
            html.Append("<div class=\"set\">");
            if (Figure.Length > 0)
            {
                html.Append(CultureInfo.InvariantCulture, $"<p class=\"figure{(Digits ? "" : " words")}\">{Figure}</p>");
            }

            html.Append("<div class=\"beside\">");
            Paragraphs(html, "", Beside);
            html.Append("</div></div>");
        }

        Paragraphs(html, "note", Notes);
        Paragraphs(html, "off", Lines);
        html.Append("</div>\n</article>\n");
    }

    /// <summary>A length in digits: the unit small, a fraction as on a tape measure smaller than the whole.</summary>
    public static string DigitsOf(string number, string unit, string error)
    {
        var blank = number.LastIndexOf(' ');
        var (whole, fraction) = blank > 0 && number.Contains('/', StringComparison.Ordinal) ? (number[..blank], number[(blank + 1)..]) : (number, "");
        return $"<span class=\"num\">{E(whole)}</span>{(fraction.Length > 0 ? $"<span class=\"frac\"> {E(fraction)}</span>" : "")}<span class=\"unit\"> {E(unit)}</span>{(error.Length > 0 ? $"<span class=\"error\"> {E(error)}</span>" : "")}";
    }

    /// <summary>Longer names are shortened, so that a step is no higher than the screen; none of our own sentences is so long.</summary>
    private const int MostCharacters = 200;

    public static string E(string text) => SvgFile.Escape(Core.Texts.PlainText.Shortened(text, MostCharacters));

    private static void Paragraphs(StringBuilder html, string kind, IReadOnlyList<string> lines)
    {
        foreach (var line in lines.Where(line => line.Length > 0))
        {
            html.Append(CultureInfo.InvariantCulture, $"<p{(kind.Length > 0 ? $" class=\"{kind}\"" : "")}>{E(line)}</p>");
        }
    }
}
