namespace Nest.Data.Models.Step;

/// <summary>Parser of the exchange structure of ISO 10303-21: header schema and the entities of the data section.</summary>
/// <remarks>Reads bytes (<see cref="ExchangeScanner"/>), no regular expressions; lists nest at most <see cref="DeepestList"/>. Cost: linear.</remarks>
internal sealed class ExchangeText
{
    private const int DeepestList = 32;

    private readonly ExchangeScanner scanner;
    private int values;

    private ExchangeText(byte[] bytes) => scanner = new(bytes);

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
        scanner.SkipBlank();
        if (!scanner.TryWord("ISO-10303-21"))
        {
            throw ModelFault.Damaged("this is no STEP file: it does not begin with ISO-10303-21", scanner.Line);
        }

        scanner.Want(';');
        while (true)
        {
            scanner.SkipBlank();
            if (scanner.AtEnd)
            {
                throw ModelFault.Damaged("the file is cut off: its end is missing", scanner.Line);
            }

            if (scanner.TryWord("END-ISO-10303-21"))
            {
                return;
            }

            var name = scanner.Name();
            scanner.SkipBlank();
            switch (name)
            {
                case "HEADER":
                    scanner.Want(';');
                    Header();
                    break;
                case "DATA":
                    if (scanner.Peek() == '(')
                    {
                        Values(0);
                    }

                    scanner.Want(';');
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
            var name = scanner.Name();
            scanner.SkipBlank();
            if (name == "ENDSEC")
            {
                scanner.Want(';');
                return;
            }

            var parameters = Values(0);
            scanner.Want(';');
            if (name == "FILE_SCHEMA" && parameters is [{ Items: [{ Text: var schema }, ..] }, ..])
            {
                Schema = ModelLimits.CleanName(schema);
            }
        }
    }

    // ANCHOR, REFERENCE and SIGNATURE of the newer edition: nothing of a shape is in them.
    private void SkipSection()
    {
        while (!scanner.AtEnd)
        {
            scanner.SkipBlank();
            if (scanner.TryWord("ENDSEC"))
            {
                scanner.Want(';');
                return;
            }

            if (scanner.Peek() == '\'')
            {
                scanner.Text();
            }
            else
            {
                scanner.Skip();
            }
        }
    }

    private void Data()
    {
        while (true)
        {
            scanner.SkipBlank();
            if (scanner.TryWord("ENDSEC"))
            {
                scanner.Want(';');
                return;
            }

            scanner.Want('#');
            var number = scanner.Whole();
            scanner.SkipBlank();
            scanner.Want('=');
            scanner.SkipBlank();
            var entity = new StepEntity(number, scanner.Peek() == '(' ? Complex() : [new(scanner.Name(), Parameters())]);
            scanner.Want(';');
            if (!Entities.TryAdd(number, entity))
            {
                throw ModelFault.Damaged($"#{number} is there twice", scanner.Line);
            }

            if (Entities.Count > ModelLimits.Entities)
            {
                throw ModelFault.TooMuch($"the file has more than {ModelLimits.Entities} entities");
            }
        }
    }

    private StepPart[] Complex()
    {
        scanner.Want('(');
        var parts = new List<StepPart>();
        while (true)
        {
            scanner.SkipBlank();
            if (scanner.Peek() == ')')
            {
                scanner.Skip();
                return parts.Count > 0 ? [.. parts] : throw ModelFault.Damaged("an entity has no name", scanner.Line);
            }

            parts.Add(new(scanner.Name(), Parameters()));
        }
    }

    private StepValue[] Parameters()
    {
        scanner.SkipBlank();
        return Values(0);
    }

    private StepValue[] Values(int depth)
    {
        if (depth > DeepestList)
        {
            throw ModelFault.Damaged("lists lie within each other too deep", scanner.Line);
        }

        scanner.Want('(');
        var list = new List<StepValue>();
        while (true)
        {
            scanner.SkipBlank();
            if (scanner.Peek() == ')')
            {
                scanner.Skip();
                return [.. list];
            }

            if (list.Count > 0)
            {
                scanner.Want(',');
                scanner.SkipBlank();
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
        var c = scanner.Peek();
        switch (c)
        {
            case '$' or '*':
                scanner.Skip();
                return StepValue.Unset;
            case '#':
                scanner.Skip();
                return new(StepKind.Reference, scanner.Whole());
            case '\'':
                return new(StepKind.Text, 0, scanner.Text());
            case '"':
                return new(StepKind.Text, 0, scanner.Binary());
            case '(':
                return new(StepKind.List, 0, "", Values(depth + 1));
            case '.' when scanner.AtWord:
                scanner.Skip();
                var word = scanner.Name();
                scanner.Want('.');
                return new(StepKind.Word, 0, word);
            case '+' or '-' or '.' or (>= '0' and <= '9'):
                return new(StepKind.Number, scanner.Number());
            default:
                var name = scanner.Name();
                scanner.SkipBlank();
                return new(StepKind.Typed, 0, name, Values(depth + 1));
        }
    }
}
