using Nest.Fuzz;
using Nest.Fuzz.Tables;

// Long runs of made input for the readers. Exit 1 after a fault; each is kept as a file.
switch (args)
{
    case ["models", ..]:
        return ModelCommand.Run(args);
    case ["long", ..]:
        return LongRun.Run(args);
    case ["read", var file]:
        return ReadCommand.Run(file);
    case ["make", var file, var rows]:
        return ReadCommand.Make(file, int.Parse(rows, System.Globalization.CultureInfo.InvariantCulture));
    case ["tables", ..]:
        return TableCommand.Run(args);
    default:
        Console.Error.WriteLine(ModelCommand.Help);
        Console.Error.WriteLine(TableCommand.Help);
        Console.Error.WriteLine(ReadCommand.Help);
        Console.Error.WriteLine(LongRun.Help);
        return 2;
}
