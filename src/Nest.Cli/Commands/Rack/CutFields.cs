using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Nest.Core.Quantities;
using Nest.Rack;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands.Rack;

/// <summary>Options that cut and miscut share.</summary>
internal sealed class CutFields
{
    public Option<string?> Heat { get; } = new("--heat") { Description = "Heat number of the stock, where the rack does not know it yet.", HelpName = "NUMBER" };

    public Option<string?> Certificate { get; } = new("--certificate") { Description = "Certificate of the stock, where the rack does not know it yet.", HelpName = "REF" };

    public Option<string?> Place { get; } = new("--place") { Description = "Where leftovers go.", HelpName = "PLACE" };

    public Option<string?> Batch { get; } = new("--batch") { Description = "Batch of the blanks. Default: the number of the plan, or of the one whose rest it does.", HelpName = "BATCH" };

    public Option<bool> Sound { get; } = new("--sound") { Description = "Of the damage of the piece (keep-outs) nothing is on what --left names." };

    public Option<string[]> KeepOut { get; } = new("--keep-out") { Description = "Damage on the leftover that --left names: x,y,width,height from its lower left corner.", HelpName = "AREA" };

    public Option<string?> Note { get; } = new("--note") { Description = "Remark.", HelpName = "TEXT" };

    public void AddTo(Command command)
    {
        command.Add(Heat);
        command.Add(Certificate);
        command.Add(Place);
        command.Add(Batch);
        command.Add(Sound);
        command.Add(KeepOut);
        if (command.Name == "cut")
        {
            command.Add(Note);
        }
    }

    /// <exception cref="RackException">A count cannot be read.</exception>
    public static ImmutableArray<PartCount> Parts(string[] texts) => [.. texts.Select(text =>
    {
        var colon = text.IndexOf(':', StringComparison.Ordinal);
        return colon > 0 && colon < text.Length - 1 && int.TryParse(text[..colon], NumberStyles.None, CultureInfo.InvariantCulture, out var count)
            ? new PartCount(text[(colon + 1)..], count)
            : throw new RackException(RackFault.Refused, $"'{text}' is no count of a part", "write 2:bracket");
    })];

    /// <exception cref="RackException">A size or an area cannot be read, or does not say of which leftover it is.</exception>
    public ImmutableArray<ActualLeftover> Leftovers(ParseResult parsed, string[] texts, LengthUnit unit)
    {
        var keepOuts = PieceFields.Areas(parsed.GetValue(KeepOut) ?? [], unit);
        if (!keepOuts.IsEmpty && texts.Length != 1)
        {
            throw new RackException(RackFault.Refused, "--keep-out belongs to one leftover", "name it with --left; where there are several, enter their damage with 'nest rack adjust MARK --keep-out' and say --sound here");
        }

        return [.. texts.Select(text =>
        {
            var sizes = FilterOptions.Sizes(text, unit);
            return sizes.Length <= 2
                ? new ActualLeftover(sizes[0], sizes.Length == 2 ? sizes[1] : Length.Zero) { Sound = parsed.GetValue(Sound), KeepOuts = keepOuts }
                : throw new RackException(RackFault.Refused, $"'{text}' is no leftover's size", "write length x width, on bars only the length");
        })];
    }
}
