using System.Globalization;
using System.Text;

namespace Nest.Data.Models.Step;

/// <summary>Parser of the exchange structure of ISO 10303-21: header schema and the entities of the data section.</summary>
/// <remarks>Reads bytes, no regular expressions; lists nest at most <see cref="DeepestList"/>. Text: \X2\, \X4\, \X\, \S\ and plain UTF-8 are understood.
/// Cost: linear.</remarks>
internal sealed class ExchangeText
{
    private const int DeepestList = 32;
    private const int LongestText = 100_000;

    private readonly byte[] bytes;
    private int at;
    private int line = 1;
    private int values;

    private ExchangeText(byte[] bytes) => this.bytes = bytes;

    public Dictionary<int, StepEntity> Entities { get; } = [];

    /// <summary>Names of the schema, as in FILE_SCHEMA.</summary>
    public string Schema { get; private set; } = "";

    public static ExchangeText Read(byte[] bytes)
    {
        var text = new ExchangeText(bytes);
        text.Run();
        return text;
    }

    private void Run()
    {
        SkipBlank();
        if (!TryWord("ISO-10303-21"))
        {
            throw ModelFault.Damaged("this is no STEP file: it does not begin with ISO-10303-21", line);
        }

        Want(';');
        while (true)
        {
            SkipBlank();
            if (at >= bytes.Length)
            {
                throw ModelFault.Damaged("the file is cut off: its end is missing", line);
            }

            if (TryWord("END-ISO-10303-21"))
            {
                return;
            }

            var name = Name();
            SkipBlank();
            switch (name)
            {
                case "HEADER":
                    Want(';');
                    Header();
                    break;
                case "DATA":
                    if (Peek() == '(')
                    {
                        Values(0);
                    }

                    Want(';');
                    Data();
                    break;
                default:
                    SkipSection();
                    break;
            }
        }
    }

    private void Header()
    {
        while (true)
        {
            var name = Name();
            SkipBlank();
            if (name == "ENDSEC")
            {
                Want(';');
                return;
            }

            var parameters = Values(0);
            Want(';');
            if (name == "FILE_SCHEMA" && parameters is [{ Items: [{ Text: var schema }, ..] }, ..])
            {
                Schema = ModelLimits.CleanName(schema);
            }
        }
    }

    // ANCHOR, REFERENCE and SIGNATURE of the newer edition: nothing of a shape is in them.
    private void SkipSection()
    {
        while (at < bytes.Length)
        {
            SkipBlank();
            if (TryWord("ENDSEC"))
            {
                Want(';');
                return;
            }

            if (Peek() == '\'')
            {
                Text();
            }
            else
            {
                at++;
            }
        }
    }

    private void Data()
    {
        while (true)
        {
            SkipBlank();
            if (TryWord("ENDSEC"))
            {
                Want(';');
                return;
            }

            Want('#');
            var number = Whole();
            SkipBlank();
            Want('=');
            SkipBlank();
            var entity = new StepEntity(number, Peek() == '(' ? Complex() : [new(Name(), Parameters())]);
            Want(';');
            if (!Entities.TryAdd(number, entity))
            {
                throw ModelFault.Damaged($"#{number} is there twice", line);
            }

            if (Entities.Count > ModelLimits.Entities)
            {
                throw ModelFault.TooMuch($"the file has more than {ModelLimits.Entities} entities");
            }
        }
    }

    private StepPart[] Complex()
    {
        Want('(');
        var parts = new List<StepPart>();
        while (true)
        {
            SkipBlank();
            if (Peek() == ')')
            {
                at++;
                return parts.Count > 0 ? [.. parts] : throw ModelFault.Damaged("an entity has no name", line);
            }

            parts.Add(new(Name(), Parameters()));
        }
    }

    private StepValue[] Parameters()
    {
        SkipBlank();
        return Values(0);
    }

    private StepValue[] Values(int depth)
    {
        if (depth > DeepestList)
        {
            throw ModelFault.Damaged("lists lie within each other too deep", line);
        }

        Want('(');
        var list = new List<StepValue>();
        while (true)
        {
            SkipBlank();
            if (Peek() == ')')
            {
                at++;
                return [.. list];
            }

            if (list.Count > 0)
            {
                Want(',');
                SkipBlank();
            }

            list.Add(Value(depth));
            if (++values > 12 * ModelLimits.Entities)
            {
                throw ModelFault.TooMuch("the file has too many parameters");
            }
        }
    }

    private StepValue Value(int depth)
    {
        var c = Peek();
        switch (c)
        {
            case '$' or '*':
                at++;
                return StepValue.Unset;
            case '#':
                at++;
                return new(StepKind.Reference, Whole());
            case '\'':
                return new(StepKind.Text, 0, Text());
            case '"':
                return new(StepKind.Text, 0, Binary());
            case '(':
                return new(StepKind.List, 0, "", Values(depth + 1));
            case '.' when at + 1 < bytes.Length && !char.IsAsciiDigit((char)bytes[at + 1]):
                at++;
                var word = Name();
                Want('.');
                return new(StepKind.Word, 0, word);
            case '+' or '-' or '.' or (>= '0' and <= '9'):
                return new(StepKind.Number, Number());
            default:
                var name = Name();
                SkipBlank();
                return new(StepKind.Typed, 0, name, Values(depth + 1));
        }
    }

    private double Number()
    {
        var start = at;
        while (at < bytes.Length && (char.IsAsciiDigit((char)bytes[at]) || bytes[at] is (byte)'+' or (byte)'-' or (byte)'.' or (byte)'E' or (byte)'e'))
        {
            at++;
        }

        return ByteScanner.ToNumber(bytes.AsSpan(start, at - start), line);
    }

    private int Whole()
    {
        long value = 0;
        var start = at;
        while (at < bytes.Length && char.IsAsciiDigit((char)bytes[at]) && value < int.MaxValue)
        {
            value = (value * 10) + (bytes[at++] - '0');
        }

        return at > start && value <= int.MaxValue ? (int)value : throw ModelFault.Damaged("a number of an entity is missing or too large", line);
    }

    private string Name()
    {
        SkipBlank();
        var start = at;
        while (at < bytes.Length && (char.IsAsciiLetterOrDigit((char)bytes[at]) || bytes[at] is (byte)'_' or (byte)'-' or (byte)'!') && at - start < 200)
        {
            at++;
        }

        return at > start ? Encoding.ASCII.GetString(bytes, start, at - start).ToUpperInvariant() : throw ModelFault.Damaged($"{Here()} where a name must stand", line);
    }

    private bool TryWord(string word)
    {
        if (at + word.Length > bytes.Length || !Encoding.ASCII.GetString(bytes, at, word.Length).Equals(word, StringComparison.OrdinalIgnoreCase))
        {
            return false;
        }

        at += word.Length;
        return true;
    }

    private string Binary()
    {
        var end = Array.IndexOf(bytes, (byte)'"', at + 1);
        if (end < 0)
        {
            throw ModelFault.Damaged("a quote is never closed", line);
        }

        at = end + 1;
        return "";
    }

    // Two quotes are one; \X2\00E4\X0\ and its like are letters.
    private string Text()
    {
        var (first, raw) = (line, new List<byte>());
        for (at++; at < bytes.Length; at++)
        {
            var c = bytes[at];
            if (c == '\'')
            {
                if (at + 1 < bytes.Length && bytes[at + 1] == '\'')
                {
                    at++;
                }
                else
                {
                    at++;
                    return StepLetters.Decode(Encoding.UTF8.GetString([.. raw]));
                }
            }

            if (c == '\n')
            {
                line++;
            }

            // Long texts are broken over lines.
            if (c is not ((byte)'\n' or (byte)'\r') && raw.Count < LongestText)
            {
                raw.Add(c);
            }
        }

        throw ModelFault.Damaged("a text is never closed", first);
    }

    private void Want(char wanted)
    {
        SkipBlank();
        if (Peek() != wanted)
        {
            throw ModelFault.Damaged($"{Here()} where '{wanted}' must stand", line);
        }

        at++;
    }

    private char Peek() => at < bytes.Length ? (char)bytes[at] : '\0';

    private string Here() => at >= bytes.Length ? "the file is cut off" : $"'{ModelLimits.CleanName(((char)bytes[at]).ToString(CultureInfo.InvariantCulture))}' stands";

    private void SkipBlank()
    {
        while (at < bytes.Length)
        {
            var c = bytes[at];
            if (c == '/' && at + 1 < bytes.Length && bytes[at + 1] == '*')
            {
                var end = bytes.AsSpan(at + 2).IndexOf("*/"u8);
                if (end < 0)
                {
                    throw ModelFault.Damaged("a comment is never closed", line);
                }

                line += bytes.AsSpan(at, end + 4).Count((byte)'\n');
                at += end + 4;
            }
            else if (c <= ' ')
            {
                line += c == '\n' ? 1 : 0;
                at++;
            }
            else
            {
                return;
            }
        }
    }
}
