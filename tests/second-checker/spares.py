"""The layouts without their free spares ('Free spares' of plan-format.md)."""

import json
from decimal import Decimal

import money
from amounts import nm, units
from cuts import Cuts
from layouts import Layout, node_children


def text(length):
    return Decimal(length) / 1_000_000


def amount(value):
    return Decimal(value) / 10_000


def needed(layouts, facing, sides):
    """Layouts as they are without spares; 'facing' gives the units that a piece of a layout may cost to face. 'sides' says which unit (min or max) is taken of
    sawing, scrap and facing where an exact half or whole unit leaves two open."""
    found = []
    for one in layouts:
        spares = any("spare" in piece for piece in one.raw["pieces"])
        bare = _bare(one, facing, sides) if spares else one
        if found and (spares or found[-1][1]) and _shape(found[-1][0]) == _shape(bare):
            last = found[-1][0]
            found[-1] = (Layout(last.job, last.raw | {"count": last.count + bare.count}), True)
        else:
            found.append((bare, spares))
    return [one for one, _ in found]


def _shape(one):
    return json.dumps({name: value for name, value in one.raw.items() if name not in ("number", "count", "settings")}, sort_keys=True, default=lambda number: str(number.normalize()))


def _bare(one, facing, sides):
    raw = dict(one.raw)
    stay = [at for at, piece in enumerate(raw["pieces"]) if "spare" not in piece]
    number = {at: new for new, at in enumerate(stay)}
    raw["pieces"] = [raw["pieces"][at] for at in stay]
    if not one.cutter:
        (_bar if one.bar else _plate)(one, raw, stay, number)
    bare = Layout(one.job, raw)
    for offcut, (keep, worth) in zip(raw["offcuts"], money.offcuts(bare)):
        offcut.setdefault("keep", keep)
        offcut.setdefault("value", amount(min(worth)))
    spared = sum(sides[2](facing(one, piece, area) or {0}) for piece, area in zip(one.raw["pieces"], one.pieces) if "spare" in piece)
    loads = {0} if bare.whole else money.loading(one.saw_raw)
    cost = {
        "metal": one.raw["cost"]["metal"],
        "saw": amount(sides[0](load + cuts for load in loads for cuts in Cuts(bare).cost())),
        "facing": amount(units(one.raw["cost"]["facing"]) - spared),
        "offcutCredit": amount(sum(units(offcut["value"]) for offcut in raw["offcuts"])),
        "scrapCredit": amount(sides[1](money.scrap_credits(bare))),
    }
    cost["total"] = cost["metal"] + cost["saw"] + cost["facing"] - cost["offcutCredit"] - cost["scrapCredit"]
    raw["cost"] = cost
    return Layout(one.job, raw)


def _bar(one, raw, stay, number):
    right = Cuts(one).from_right
    left_end, right_end = one.trims[0], one.sheet[0] - one.trims[1]
    at = right_end if right else left_end
    nodes, areas = [], {}
    for piece in sorted(stay, key=lambda piece: one.pieces[piece][0], reverse=right):
        x, y, w, h = one.pieces[piece]
        at -= w if right else 0
        areas[piece] = [text(at), text(y), text(w), text(h)]
        nodes.append({"kind": "piece", "area": areas[piece], "index": number[piece]})
        at += -one.kerf if right else w + one.kerf
    raw["pieces"] = [dict(piece, area=areas[at_]) for piece, at_ in zip(raw["pieces"], stay)]
    rest = at - left_end if right else right_end - at
    raw["offcuts"] = []
    if rest > 0:
        area = [text(left_end if right else at), Decimal(0), text(rest), text(one.sheet[1])]
        raw["offcuts"] = [{"area": area}]
        nodes.append({"kind": "offcut", "area": area, "index": 0})
    if right:
        nodes.reverse()
    root = {"kind": "split", "area": raw["tree"][0]["area"], "direction": "across", "children": list(range(1, len(nodes) + 1))}
    raw["tree"] = [root, *nodes]


def _plate(one, raw, stay, number):
    offcuts, tree = [], []

    def leaves(node):
        return [leaf for child in node_children(one.tree, node) for leaf in leaves(child)] if node["kind"] == "split" else [node]

    def visit(node):
        own = leaves(node)
        scrap = all("spare" in one.raw["pieces"][leaf["index"]] if leaf["kind"] == "piece" else not one.raw["offcuts"][leaf["index"]]["keep"] for leaf in own)
        place = len(tree)
        tree.append(None)
        if node["kind"] == "offcut" or (scrap and any(leaf["kind"] == "piece" for leaf in own)):
            offcuts.append(dict(one.raw["offcuts"][node["index"]]) if node["kind"] == "offcut" else {"area": node["area"]})
            tree[place] = {"kind": "offcut", "area": node["area"], "index": len(offcuts) - 1}
        elif node["kind"] == "piece":
            tree[place] = {"kind": "piece", "area": node["area"], "index": number[node["index"]]}
        else:
            tree[place] = {"kind": "split", "area": node["area"], "direction": node["direction"], "children": [visit(child) for child in node_children(one.tree, node)]}
        return place

    visit(one.tree[0])
    raw["offcuts"], raw["tree"] = offcuts, tree


def problems(job, plan, cut, bare):
    """What breaks a rule for free spares."""
    there = {}
    for one in cut:
        spares = [piece for piece in one.raw["pieces"] if "spare" in piece]
        if spares and len(spares) == len(one.pieces):
            yield f"layout {one.number}: holds spares alone"
        for piece in spares:
            there[piece["part"]] = there.get(piece["part"], 0) + one.count
    for part in job["parts"]:
        count = there.get(part["id"], 0)
        if count > part.get("freeSpares", 0) or (count and any(missing["part"] == part["id"] for missing in plan["unplaced"])) or ("freeSpares" in part and "perBlank" in part):
            yield f"part {part['id']}: {count} free spares, {part.get('freeSpares', 0)} wanted"
    credit = [sum(one.count * units(one.raw["cost"]["offcutCredit"]) for one in layouts) for layouts in (cut, bare)]
    if credit[0] < credit[1]:
        yield "a free spare is cut from an offcut that would be kept"
    sizes = [sum(len(own) - 1 for own in money.sizes_of_blanks(layouts)[0].values()) for layouts in (cut, bare)]
    if sizes[0] > sizes[1] and max(money.further_size(job)) > 0:
        yield "a free spare has a further size of blank"
    if there and "freeSparesUpTo" in job and units(plan.get("spareCost", 0)) > units(job["freeSparesUpTo"]) * sum(there.values()):
        yield "free spares cost more than is allowed"
