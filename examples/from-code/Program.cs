using Nest.Examples;

// A parts list is planned on the starter catalogue (invented prices), checked and drawn, all from code:
//   dotnet run --project examples/from-code -- FOLDER
return FromCode.Run(args.Length == 1 ? args[0] : "from-code", Console.Out);
