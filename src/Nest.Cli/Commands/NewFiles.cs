using Nest.Core.Quantities;
using Nest.Data;

namespace Nest.Cli.Commands;

/// <summary>What <c>nest new</c> writes: the smallest job that shows everything one changes first. Sizes, parts, suppliers and prices are
/// invented.</summary>
internal static class NewFiles
{
    public static IReadOnlyList<(string Name, string Text)> Of(bool inches) =>
    [
        ("job.toml", inches ? Job.Replace("\"mm\"", "\"in\"", StringComparison.Ordinal).Replace("\"EUR\"", "\"USD\"", StringComparison.Ordinal)
            .Replace("\"a4\"", "\"letter\"", StringComparison.Ordinal).Replace("1.5 ", "0.06", StringComparison.Ordinal).Replace("0.5", "0.02", StringComparison.Ordinal) : Job),
        ("parts.csv", inches ? PartsInch : Parts),
        ("prices.csv", inches ? PricesInch : Prices),
        ("rack.csv", inches ? RackInch : Rack),
        ("saws.toml", StarterText.Saws(inches ? LengthUnit.Inch : LengthUnit.Millimetre)),
    ];

    private const string Job = """
        # A job: what to make, from what, on which saw. Lines that begin with # are comments.
        name = "My first job"
        unit = "mm"                 # of bare numbers here and in the tables; 1/2 in, 3 m and the like may be written anywhere
        currency = "EUR"
        paper = "a4"                # of the sheets
        batch = 1                   # how many sets of the parts are made at once

        parts = "parts.csv"         # name, material, finished size, quantity, forms of stock that are allowed
        rack = "rack.csv"           # leftovers that you have
        saws = "saws.toml"          # kerf, trims, rates and limits of your saws

        # wanted_in_days = 8        # who delivers later is left out

        [shop]                      # who orders: printed on the orders
        name = "My shop"
        address = ["Street 1", "Town"]
        contact = ""

        [[supplier]]                # one for each; all but the name may be left out
        name = "My supplier (invented)"
        price_list = "prices.csv"
        minimum_order = 40          # a smaller order pays up to it
        delivery = 15
        free_delivery_from = 300
        lead_days = 3
        # email = "sales@example.org"
        # customer_number = ""
        # certificates = "EN 10204 3.1"

        [allowances]                # what the blank has over the finished size
        side_clean_up = 1.5         # per sawn side
        end_clean_up = 1.5          # per end of a bar blank
        face_top = 0.5              # milled off the faces
        face_bottom = 0.5
        grip = 0                    # for the vise to hold, milled away last

        [limits]
        seconds = 10                # of the search; a longer one may find a cheaper plan

        """;

    private const string Parts = """
        part,material,length,width,thickness,quantity,forms,note
        bracket,6082-T6,90,60,8,12,any,
        link,S235JR,220,30,10,6,flat bar,
        cover,6082-T6,180,120,5,4,plate,

        """;

    private const string PartsInch = """
        part,material,length,width,thickness,quantity,forms,note
        bracket,6061-T6,3.5,2.25,0.3,12,any,
        link,A36,8.5,1.25,0.4,6,flat bar,
        cover,6061-T6,7,4.5,0.2,4,plate,

        """;

    private const string Prices = """
        id,form,material,thickness,width,length,price
        plate-8,plate,6082-T6,8,500,1000,85
        plate-10,plate,6082-T6,10,500,1000,104
        bar-70x12,flat bar,6082-T6,12,70,3000,62
        bar-40x12,flat bar,S235JR,12,40,3000,21

        """;

    private const string PricesInch = """
        id,form,material,thickness,width,length,price
        plate-3/8,plate,6061-T6,0.375,24,48,118
        plate-1/4,plate,6061-T6,0.25,24,48,84
        bar-3x1/2,flat bar,6061-T6,0.5,3,144,71
        bar-1.5x1/2,flat bar,A36,0.5,1.5,240,38

        """;

    private const string Rack = """
        mark,form,material,thickness,width,length,clean edges,place,note
        R1,plate,6082-T6,8,210,320,left bottom,shelf 1,a leftover

        """;

    private const string RackInch = """
        mark,form,material,thickness,width,length,clean edges,place,note
        R1,plate,6061-T6,0.375,8.5,13,left bottom,shelf 1,a leftover

        """;
}
