using System.Text;

namespace Nest.Data.Tables;

/// <summary>Which decimal mark the numbers of a column have, from all of them.</summary>
/// <remarks>A mark that stands once is a decimal mark unless exactly three digits follow and one to three, not beginning with 0, stand before
/// it: that could group thousands, and the number is open. Where both marks stand in one number the last is the decimal one; one that
/// stands several times groups thousands.</remarks>
internal sealed class DecimalMarks
{
    /// <summary>First row and number that shows a decimal comma, a decimal point, or is open.</summary>
    public (int Row, string Text)? Comma { get; private set; }

    public (int Row, string Text)? Point { get; private set; }

    public (int Row, string Text)? OpenComma { get; private set; }

    public (int Row, string Text)? OpenPoint { get; private set; }

    /// <summary>Adds all numbers of a text.</summary>
    public void Add(string text, int row)
    {
        if (text.AsSpan().IndexOfAny('.', ',') < 0)
        {
            return; // as most are
        }

        for (var i = 0; i < text.Length; i++)
        {
            if (!char.IsAsciiDigit(text[i]) && !(text[i] is '.' or ',' && i + 1 < text.Length && char.IsAsciiDigit(text[i + 1])))
            {
                continue;
            }

            var start = i;
            while (i < text.Length && (char.IsAsciiDigit(text[i]) || (text[i] is '.' or ',' && i + 1 < text.Length && char.IsAsciiDigit(text[i + 1]))))
            {
                i++;
            }

            One(text[start..i], row);
        }
    }

    private void One(string number, int row)
    {
        var (commas, points) = (number.AsSpan().Count(','), number.AsSpan().Count('.'));
        if (commas + points == 0)
        {
            return;
        }

        var at = number.LastIndexOfAny([',', '.']);
        var mark = number[at];
        if (commas > 0 && points > 0)
        {
            if ((mark == ',' ? commas : points) == 1)
            {
                Shown(mark, number, row);
            }
        }
        else if (commas + points > 1)
        {
            Shown(mark == ',' ? '.' : ',', number, row);
        }
        else if (number.Length - at - 1 != 3 || at is 0 or > 3 || number[0] == '0')
        {
            Shown(mark, number, row);
        }
        else if (mark == ',')
        {
            OpenComma ??= (row, number);
        }
        else
        {
            OpenPoint ??= (row, number);
        }
    }

    private void Shown(char mark, string number, int row)
    {
        if (mark == ',')
        {
            Comma ??= (row, number);
        }
        else
        {
            Point ??= (row, number);
        }
    }

    /// <summary>A text whose numbers have no groups of thousands, where the mark is known: 1.250,5 → 1250,5.</summary>
    public static string WithoutGroups(string text, char mark)
    {
        var group = mark == ',' ? '.' : ',';
        if (!text.Contains(group) && !text.Contains('\''))
        {
            return text;
        }

        StringBuilder? plain = null;
        for (var i = 0; i < text.Length; i++)
        {
            var isGroup = (text[i] == group || text[i] is '\'' or '’') && IsGroup(text, i, mark);
            if (isGroup)
            {
                plain ??= new(text[..i]);
            }
            else
            {
                plain?.Append(text[i]);
            }
        }

        return plain?.ToString() ?? text;
    }

    /// <summary>Whether one to three digits stand before it (or a group and its digits), and just three behind, in a number that holds no other mark before.</summary>
    private static bool IsGroup(string text, int at, char mark)
    {
        var before = at;
        while (before > 0 && char.IsAsciiDigit(text[before - 1]))
        {
            before--;
        }

        var digits = at - before;
        if (digits is 0 or > 3 || text[before] == '0')
        {
            // Of 0,250 nothing can be a group; 1,000,000 has zeros behind a group only.
            if (digits != 3 || before == 0 || text[before - 1] != text[at])
            {
                return false;
            }
        }

        if (before > 0 && text[before - 1] == mark)
        {
            return false;
        }

        if (before > 0 && text[before - 1] == text[at] && digits != 3)
        {
            return false;
        }

        var after = at + 1;
        while (after < text.Length && char.IsAsciiDigit(text[after]))
        {
            after++;
        }

        return after - at - 1 == 3;
    }
}
