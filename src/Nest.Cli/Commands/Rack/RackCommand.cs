using System.CommandLine;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest rack</c>: leftovers and whole stock, their history, labels, tables, pictures and stock-takes.</summary>
internal static class RackCommand
{
    public static void Fill(Command command, World world)
    {
        var access = new RackAccess(world);
        command.With(
            ListCommands.List(access),
            ListCommands.Find(access),
            ListCommands.Show(access),
            PieceCommands.Add(access),
            PieceCommands.Move(access),
            PieceCommands.Adjust(access),
            PieceCommands.Scrap(access),
            TableCommands.Import(access),
            TableCommands.Export(access),
            HistoryCommands.History(access),
            HistoryCommands.Undo(access),
            PrintCommands.Labels(access),
            PrintCommands.Picture(access),
            CountCommands.Count(access),
            BookCommands.Trace(access),
            BookCommands.Balance(access),
            BookCommands.Check(access),
            BookCommands.Rules(access),
            UseCommand.Create(access),
            ShopCommands.Unit(access),
            ShopCommands.Prices(access));
        access.On(command);
    }
}
