"""Prices, offcuts, scrap, orders, fuss and the cost of parts ('Offcuts and scrap', 'Loading …', 'Orders', 'Cost of a part' of plan-format.md)."""

from fractions import Fraction

from amounts import down, fraction, nearest, nm, share_out, units
from blanks import same, section

FOOT, POUND = Fraction("0.3048"), Fraction("0.45359237")
NM3_PER_M3 = 10 ** 27


def piece_prices(stock, material):
    """Units that the price of one piece may be; None where the file does not say how it was made."""
    if stock["priceBasis"] == "piece" and stock["unitPrice"] == 0 and "cutFrom" not in stock:
        return None
    row = stock.get("cutFrom")
    if "cutFor" in stock and row is None:
        return None
    length, width = nm(stock["length"]), nm(stock["width"])
    metres = Fraction(length, 10 ** 9)
    square = metres * width / 10 ** 9
    mass = Fraction(section(stock) * length, NM3_PER_M3) * fraction(material["density"])
    whole = Fraction(length * width, nm(row["length"]) * nm(row["width"])) if row else Fraction(1)
    quantity = {"piece": whole, "metre": metres, "foot": metres / FOOT, "square-metre": square,
                "square-foot": square / FOOT ** 2, "kilogram": mass, "pound": mass / POUND}[stock["priceBasis"]]
    return nearest(fraction(stock["unitPrice"]) * quantity + (fraction(row["charges"]) if row else 0))


def offcut_rule(job, stock):
    return next((rule for rule in job["offcutRules"] if rule.get("form", stock["form"]) == stock["form"]
                 and same(rule.get("materialId", stock["materialId"]), stock["materialId"])), None)


def scrap_worth(stock, material):
    if stock["form"] == "plate":
        volume = nm(stock["minLength"]) * nm(stock["minWidth"]) * nm(stock["thickness"])
    else:
        volume = section(stock) * nm(stock["minLength"])
    return down(Fraction(volume, NM3_PER_M3) * fraction(material["density"]) * fraction(material["scrapPricePerKilogram"]))


def keep_worth(job, stock, material):
    rule = offcut_rule(job, stock)
    share = fraction(rule["leftoverFraction" if "rackMark" in stock else "fraction"]) if rule else Fraction(0)
    prices = [stock["piecePrice"]] + [step["piecePrice"] for step in stock.get("terms", {}).get("breaks", [])]
    return {max(keep, scrap) for keep in down(min(fraction(price) for price in prices) * share) for scrap in scrap_worth(stock, material)}


def offcuts(one):
    """Of each offcut whether it is kept, and the units that it may be worth."""
    rule = offcut_rule(one.job, one.stock)
    sheet = one.sheet[0] * one.sheet[1]
    worths = keep_worth(one.job, one.stock, one.material)
    for x, y, w, h in one.offcuts:
        if rule is None:
            keep = False
        elif one.bar:
            keep = w >= nm(rule["keepLength"])
        else:
            keep = max(w, h) >= nm(rule["keepLength"]) and min(w, h) >= nm(rule["keepWidth"])
        yield keep, {worth * w * h // sheet for worth in worths} if keep else {0}


def scrap_credits(one):
    sheet = one.sheet[0] * one.sheet[1]
    kept = [offcut["keep"] for offcut in one.raw["offcuts"]]
    if one.cutter:
        rest = sheet - sum(w * h for x, y, w, h in one.pieces) - sum(w * h for keep, (x, y, w, h) in zip(kept, one.offcuts) if keep)
        areas = [rest]
    else:
        left, right, bottom, top = one.trims
        inner = one.sheet[0] - left - right
        areas = [(trim - one.kerf) * length for trim, length in
                 ((left, one.sheet[1]), (right, one.sheet[1]), (bottom, inner), (top, inner)) if trim > one.kerf]
        areas += [w * h for keep, (x, y, w, h) in zip(kept, one.offcuts) if not keep]
    return {sum(worth * area // sheet for area in areas) for worth in scrap_worth(one.stock, one.material)}


def line_cost(stock, count):
    terms = stock.get("terms", {"rule": "all-units", "breaks": [], "lineMinimum": 0})
    steps = [(1, units(stock["piecePrice"]))] + [(step["from"], units(step["piecePrice"])) for step in terms["breaks"]]
    if terms["rule"] == "all-units":
        cost = count * [price for start, price in steps if start <= count][-1]
    else:
        ends = [start - 1 for start, _ in steps[1:]] + [count]
        cost = sum(price * max(0, min(end, count) - start + 1) for (start, price), end in zip(steps, ends))
    return max(cost, units(terms["lineMinimum"]))


def orders(job, used):
    """By supplier in small letters: its lines as a set, goods, topUp, delivery in units."""
    found = {}
    for stock in job["stocks"]:
        if used.get(stock["id"]) and "rackMark" not in stock:
            count = used[stock["id"]]
            lines = found.setdefault(stock.get("supplier", "").casefold(), set())
            lines.add((stock["id"], count, units(stock["piecePrice"]) * count, line_cost(stock, count)))
    result = {}
    for supplier, lines in found.items():
        goods = sum(cost for *_, cost in lines)
        rules = next((one for one in job["suppliers"] if same(one["name"], supplier)), None)
        top_up = max(0, units(rules["minimumOrder"]) - goods) if rules else 0
        free = rules is None or ("freeDeliveryFrom" in rules and goods + top_up >= units(rules["freeDeliveryFrom"]))
        result[supplier] = (lines, goods, top_up, 0 if free else units(rules["delivery"]))
    return result


def hours(minutes, rate):
    """Units that so many minutes at a rate by the hour may cost."""
    return nearest(fraction(minutes) * fraction(rate) / 60)


def loading(saw):
    """Units that fetching, loading and labelling one piece of stock may cost."""
    return hours(saw.get("loadMinutes", 0), saw.get("hourlyRate", 0))


def ordering(job, orders):
    """Units that the work with these orders may cost; 'orders' as from orders()."""
    fuss = job.get("fuss", {})
    count = sum(len(lines) for lines, *_ in orders.values())
    return {len(orders) * supplier + count * line
            for supplier in hours(fuss.get("supplierMinutes", 0), fuss.get("hourlyRate", 0))
            for line in hours(fuss.get("orderLineMinutes", 0), fuss.get("hourlyRate", 0))}


def size_of_blank(stock, area):
    """Which blanks are of one size: its three measures, whichever way round."""
    across = area[3] if stock["form"] == "plate" else nm(stock["width"])
    return stock["form"] == "round-bar", *sorted([area[2], across, nm(stock["thickness"])])


def sizes_of_blanks(layouts):
    """By part the different sizes of its blanks, and the stocks that they come from."""
    sizes, stocks = {}, {}
    for one in layouts:
        for piece, area in zip(one.raw["pieces"], one.pieces):
            sizes.setdefault(piece["part"], set()).add(size_of_blank(one.stock, area))
            stocks.setdefault(piece["part"], set()).add(one.stock["id"])
    return sizes, stocks


def further_size(job):
    """Units that one further size of a part's blanks may cost."""
    return hours(job.get("fuss", {}).get("furtherSizeMinutes", 0), job["mill"]["hourlyRate"])


def part_costs(job, layouts, extra):
    """By part: pieces, metal, saw. 'extra' is ordering and what the orders cost beyond listed prices. A layout has its settings in 'net_settings'."""
    order = {part["id"]: at for at, part in enumerate(job["parts"])}
    pieces, metal, saw, listed = ([0] * len(order) for _ in range(4))
    for one in layouts:
        cost = {name: units(value) for name, value in one.raw["cost"].items()}
        if one.whole:
            extra += cost["total"] * one.count
            continue
        areas = {}
        for piece, (x, y, w, h) in zip(one.raw["pieces"], one.pieces):
            areas[order[piece["part"]]] = areas.get(order[piece["part"]], 0) + w * h
            pieces[order[piece["part"]]] += one.count
        parts = sorted(areas)
        weights = [areas[part] for part in parts]
        bought = 0 if "rackMark" in one.stock else cost["metal"] * one.count
        for target, amount in ((metal, (cost["metal"] - cost["offcutCredit"] - cost["scrapCredit"]) * one.count),
                               (saw, cost["saw"] * one.count + one.net_settings), (listed, bought)):
            for part, share in zip(parts, share_out(amount, weights)):
                target[part] += share
    if extra and any(pieces):
        for part, share in enumerate(share_out(extra, listed if any(listed) else pieces)):
            metal[part] += share
    return [(part["id"], pieces[at], metal[at], saw[at]) for at, part in enumerate(job["parts"]) if pieces[at]]
