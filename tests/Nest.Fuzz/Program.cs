using Nest.Fuzz;

// Long runs of made input for the readers.
if (args is ["models", ..])
{
    return ModelCommand.Run(args);
}

Console.Error.WriteLine(ModelCommand.Help);
return 2;
