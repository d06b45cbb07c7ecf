using System.CommandLine;
using System.Diagnostics;
using Nest.Cli.Commands.Rack;
using Nest.Cli.Commands.Shells;

namespace Nest.Cli.Commands;

/// <summary>All commands in the order of the help: words first, so that the help of the program builds none of them.</summary>
internal static class CommandList
{
    public static IReadOnlyList<CommandEntry> All { get; } =
    [
        new("new", "<folder>", "Begin: write a job with comments, parts, prices, leftovers and saws to change."),
        new("plan", "<job>", "Plan a batch: blanks, what to use and buy, layouts, order of cuts, cost, leftovers, and a proven bound."),
        new("check", "<plan>", "Verify a saved plan from its file alone: sizes, kerf, cuts, stock, areas, money. Not its lower bound."),
        new("blanks", "<job>", "Show the blank of every part and the stock that serves it."),
        new("desk", "<folder>", "Plan on pages in the browser: on this machine only, on the same files as the command line."),
        new("shop", "", "Begin a shop, keep the whole of it in one file, bring it back."),
        new("parts", "<file>", "Show how a parts list is understood: columns, units, sizes, rows left out, doubts; plans nothing."),
        new("batch", "<job>", "What a batch costs for each number of sets, where the steps lie, and the best numbers."),
        new("compare", "<jobs>", "What another saw, supplier, kerf or size would change, and whether the difference is more than the proven gap."),
        new("design", "<job>", "Which dimensions just miss a thinner plate, a narrower bar, one more piece or a leftover, and what meeting it saves."),
        new("why", "<plan>", "Why each part comes from its form and what the next best would cost; where the metal goes; prices for a quote."),
        new("quote", "<plan>", "Prices for a customer: cost with set-up, outside work and margin, per piece and in total. The PDF shows nothing of the shop's own costs."),
        new("took", "<plan> <minutes>", "What the layouts took at the saw against what was planned, and what all jobs so far took: proposes rates and kerf, changes none."),
        new("rack", "", "The rack: leftovers and whole stock with their marks, used first and never lost."),
        new("settings", "<job>", "Show what counts for a job (unit, allowances, saws, rates …), and where each setting comes from."),
        new("reserve", "<plan>", "Take a plan's leftovers for it alone."),
        new("ordered", "<plan>", "Enter that a plan's order to a supplier was given, and how it was confirmed."),
        new("receive", "<plan> <what>", "Enter what came of what a plan buys: each piece gets its mark and is kept for the plan; what is cut to size counts as made."),
        new("cut", "<plan> <layout>", "Book that pieces of a layout were cut; leftovers get their marks."),
        new("miscut", "<plan> <layout> <what>", "Book a stock piece that went wrong, and what was saved of it."),
        new("replan", "<plan> <file>", "Put a new plan ('nest plan --rest') in the place of what is not cut of an old one."),
        new("cancel", "<plan>", "Give a plan up: what it reserved and did not cut is free again."),
        new("plans", "<plan>", "Show plans: planned, reserved, cut, what is missing."),
        new("completion", "<shell>", "Print completion for a shell, or the manual page. The first lines of a script say how to install it."),
    ];

    /// <summary>Gives a command of the list its arguments, options and action.</summary>
    public static void Fill(Command command, World world)
    {
        switch (command.Name)
        {
            case "new": NewCommand.Fill(command, world); break;
            case "plan": PlanCommand.Fill(command, world); break;
            case "check": CheckCommand.Fill(command, world); break;
            case "blanks": BlanksCommand.Fill(command, world); break;
            case "desk": DeskCommand.Fill(command, world); break;
            case "shop": ShopCommand.Fill(command, world); break;
            case "parts": PartsCommand.Fill(command, world); break;
            case "batch": BatchCommand.Fill(command, world); break;
            case "compare": CompareCommand.Fill(command, world); break;
            case "design": DesignCommand.Fill(command, world); break;
            case "why": WhyCommand.Fill(command, world); break;
            case "quote": QuoteCommand.Fill(command, world); break;
            case "took": TookCommand.Fill(command, world); break;
            case "rack": RackCommand.Fill(command, world); break;
            case "settings": SettingsCommand.Fill(command, world); break;
            case "reserve": OnRack(PlanLifeCommands.Reserve); break;
            case "ordered": OnRack(OrderedCommand.Fill); break;
            case "receive": OnRack(ReceiveCommand.Fill); break;
            case "cut": OnRack(PlanLifeCommands.Cut); break;
            case "miscut": OnRack(PlanLifeCommands.Miscut); break;
            case "replan": OnRack(PlanLifeCommands.Replan); break;
            case "cancel": OnRack(PlanLifeCommands.Cancel); break;
            case "plans": OnRack(PlansCommand.Fill); break;
            case "completion": CompletionCommand.Fill(command, world); break;
            default: throw new UnreachableException($"The command '{command.Name}' is listed and not built.");
        }

        void OnRack(Action<Command, RackAccess> fill)
        {
            var access = new RackAccess(world);
            fill(command, access);
            access.On(command);
        }
    }
}
