#!/usr/bin/env python3
"""Works a plan of Nest out again from its file alone.

    check.py FILE ...          a line for each file; exit code 1 when anything differs

Written from stock/plan-format.md alone, in another language, with the standard library only. It shares nothing with the program. Of the
lower bound it looks at no more than status and gap: no file can show that nothing is cheaper."""

import itertools
import json
import sys
from decimal import Decimal
from fractions import Fraction

import blanks
import money
import spares
from amounts import fraction, half_away, nearest, nm, rounded, units
from cuts import Cuts
from layouts import Layout


class Checker:
    def __init__(self, plan):
        self.plan, self.job, self.found = plan, plan["job"], []

    def differs(self, where, given, right):
        self.found.append(f"{where}: is {given}, it must be {right}")

    def equal(self, where, given, right):
        if given != right:
            self.differs(where, given, right)

    def within(self, where, given, allowed):
        """An amount of the file against the units that it may be."""
        if units(given) not in allowed:
            self.differs(where, given, " or ".join(str(Decimal(value) / 10_000) for value in sorted(allowed)[:4]))

    def run(self):
        plan, job = self.plan, self.job
        self.equal("format", plan["format"], "nest-plan")
        self.equal("version", plan["version"], 3)
        self.equal("name", plan["name"], job["name"])
        self.equal("currency", plan["currency"], job["currency"])
        materials = {one["id"].casefold(): one for one in job["materials"]}
        for stock in job["stocks"]:
            allowed = money.piece_prices(stock, materials[stock["materialId"].casefold()])
            if allowed is not None:
                self.within(f"stock {stock['id']}: piecePrice", stock["piecePrice"], allowed)
        self.sections()
        layouts = [Layout(job, raw) for raw in plan["layouts"]]
        facing = {}
        for at, one in enumerate(layouts):
            self.equal(f"layout {at + 1}: number", one.number, at + 1)
            self.layout(one, facing)
        self.demand(layouts)
        beyond = self.orders(layouts) + units(plan.get("ordering", 0))
        cut = layouts
        if any("spare" in piece for one in layouts for piece in one.raw["pieces"]):
            for sides in itertools.product((max, min), repeat=3):
                layouts = spares.needed(cut, lambda one, piece, area: self.facing(one, self.part(piece), piece, area), sides)
                if self.total(layouts, beyond) == units(plan["totalCost"]):
                    break
            facing = {}
            for one in layouts:
                self.pieces(one, facing)
        self.found += spares.problems(job, plan, cut, layouts)
        self.settings(layouts)
        self.loading(layouts)
        self.sizes(layouts, facing)
        self.within("totalCost", plan["totalCost"], {self.total(layouts, beyond)})
        self.spare_cost(cut, layouts)
        self.part_costs(layouts, beyond, facing)
        self.bound()
        layouts = cut
        self.together()
        self.lists(layouts)
        return self.found

    def total(self, layouts, beyond):
        plan = self.plan
        return (sum(one.count * units(one.raw["cost"]["total"]) for one in layouts) + beyond + units(plan["settings"]) - units(plan["carriedOver"])
                + units(plan.get("furtherSizes", 0)))

    def sections(self):
        solid = ("plate", "flat-bar", "square-bar", "round-bar")
        for stock in self.job["stocks"]:
            if ("detail" in stock) == (stock["form"] in solid):
                self.found.append(f"stock {stock['id']}: a section has a detail, and nothing else has")
            elif "detail" in stock and blanks.section_problem(stock, stock["form"]):
                self.found.append(f"stock {stock['id']} {blanks.section_problem(stock, stock['form'])}")
            if "listedSection" in stock:
                if "detail" not in stock or not 0 < blanks.section(stock) <= nm(stock["width"]) * nm(stock["thickness"]):
                    self.found.append(f"stock {stock['id']}: its listed section is out of range")
            elif stock["form"] == "profile":
                self.found.append(f"stock {stock['id']}: a profile needs its listed section")
        for part in self.job["parts"]:
            if "detail" in part:
                if part["round"] or part["forms"] in ("any", "none") or part["forms"].split(", ")[0] in solid or blanks.section_problem(part, part["forms"]):
                    self.found.append(f"part {part['id']}: the section that it asks for is none")
            elif not set(part["forms"].split(", ")) <= {"any", "none", *solid, *(["hex-bar"] if part["round"] else [])}:
                self.found.append(f"part {part['id']}: nothing is machined from these sections")

    def together(self):
        jobs = self.job.get("together")
        if jobs is None:
            return
        names = [job["name"] for job in jobs]
        if not jobs or self.job["batch"] != 1 or len(set(names)) < len(names) or any(not name or "/" in name for name in names):
            self.found.append("together: not several jobs of one plan")
        for job in jobs:
            own = [part for part in self.job["parts"] if part["id"].startswith(job["name"] + "/")]
            if not own or job["sets"] < 1 or any(part["quantity"] % max(1, job["sets"]) for part in own):
                self.found.append(f"together {job['name']}: no parts, or not whole sets of them")
        for part in self.job["parts"]:
            if part["id"].split("/")[0] not in names or "/" not in part["id"]:
                self.found.append(f"part {part['id']}: it belongs to none of the jobs")

    def layout(self, one, facing):
        where = f"layout {one.number}"
        self.found += [f"{where}: {problem}" for problem in one.problems()]
        cost, raw = one.raw["cost"], one.raw
        sums = self.pieces(one, facing)
        self.within(f"{where}: metal", cost["metal"], {units(one.stock["piecePrice"])})
        self.within(f"{where}: facing", cost["facing"], sums)
        loads = {0} if one.whole else money.loading(one.saw_raw)
        self.within(f"{where}: saw", cost["saw"], {load + cuts for load in loads for cuts in Cuts(one).cost()})
        credit = 0
        for at, (offcut, (keep, worth)) in enumerate(zip(raw["offcuts"], money.offcuts(one))):
            self.equal(f"{where}, offcut {at}: keep", offcut["keep"], keep)
            self.within(f"{where}, offcut {at}: value", offcut["value"], worth)
            credit += units(offcut["value"])
        self.within(f"{where}: offcutCredit", cost["offcutCredit"], {credit})
        self.within(f"{where}: scrapCredit", cost["scrapCredit"], money.scrap_credits(one))
        self.within(f"{where}: total", cost["total"], {
            units(cost["metal"]) + units(cost["saw"]) + units(cost["facing"]) - units(cost["offcutCredit"]) - units(cost["scrapCredit"])})
        self.equal(f"{where}: settings", raw["settings"], Cuts(one).settings()[0])

    def part(self, piece):
        return next(part for part in self.job["parts"] if part["id"] == piece["part"])

    def pieces(self, one, facing):
        """Units that the facing of a layout may cost; adds up that of each part."""
        where, raw = f"layout {one.number}", one.raw
        sums, sizes = {0}, {}
        for piece, area in zip(raw["pieces"], one.pieces):
            part = self.part(piece)
            key = (piece["part"], piece["turned"], area[2:], json.dumps(piece.get("ends"), default=str))
            if key not in sizes:
                sizes[key] = self.facing(one, part, piece, area)
                if sizes[key] is None:
                    self.found.append(f"{where}: {piece['part']} has no such blank on {one.stock['id']}")
            allowed = sizes[key] or {0}
            sums = {total + units_ for total in sums for units_ in allowed}
            low, high = facing.get(piece["part"], (0, 0))
            facing[piece["part"]] = (low + min(allowed) * one.count, high + max(allowed) * one.count)
        return sums

    def facing(self, one, part, piece, area):
        """Units that the facing of a piece may cost; None where no blank of the part is like it."""
        for blank in blanks.sizes(self.job, part, one.material, one.stock, one.saw_raw):
            if one.bar:
                fits = (area[2], area[3], piece["turned"]) == (blank.x, blank.y, blank.turned) and piece.get("ends") == blank.ends
            elif "ends" in piece or (piece["turned"] and not part["mayTurn"]):
                fits = False
            else:
                fits = area[2:] == ((blank.y, blank.x) if piece["turned"] else (blank.x, blank.y))
            if fits:
                return blank.facing
        return None

    def settings(self, layouts):
        standing, total, carried = {}, {0}, {0}
        for one in layouts:
            count, first, last = Cuts(one).settings()
            amount = fraction(one.saw_raw.get("settingMinutes", 0)) * fraction(one.saw_raw.get("hourlyRate", 0)) / 60
            price = nearest(amount)
            saves = first is not None and standing.get(one.saw_raw["id"]) == first
            if last is not None:
                standing[one.saw_raw["id"]] = last
            one.net_settings = rounded(amount) * (count - saves)
            total = {sum_ + units_ * count for sum_ in total for units_ in price}
            carried = {sum_ + units_ * saves for sum_ in carried for units_ in price}
        self.within("settings", self.plan["settings"], total)
        self.within("carriedOver", self.plan["carriedOver"], carried)

    def spare_cost(self, cut, needed):
        """What the layouts as they are cut cost more than those needed: for stock, orders and further sizes nothing."""
        sums = {0}
        for layouts, sign in ((cut, 1), (needed, -1)):
            sums = {total + sign * sum(one.count * units(one.raw["cost"]["total"]) for one in layouts) for total in sums}
            standing = {}
            for one in layouts:
                count, first, last = Cuts(one).settings()
                saves = first is not None and standing.get(one.saw_raw["id"]) == first
                if last is not None:
                    standing[one.saw_raw["id"]] = last
                price = rounded(fraction(one.saw_raw.get("settingMinutes", 0)) * fraction(one.saw_raw.get("hourlyRate", 0)) / 60)
                sums = {total + sign * price * (count - saves) for total in sums}
        self.charge("spareCost", sums)

    def charge(self, name, allowed):
        """A charge at the top of the file, which is left out where it is 0."""
        self.within(name, self.plan.get(name, 0), allowed)
        if name in self.plan and units(self.plan[name]) == 0:
            self.differs(name, 0, "left out")

    def loading(self, layouts):
        sums = {0}
        for one in layouts:
            if not one.whole:
                sums = {total + load * one.count for total in sums for load in money.loading(one.saw_raw)}
        self.charge("loading", sums)

    def sizes(self, layouts, facing):
        """Further sizes of a part's blanks, which count to its facing; parts that want one stock or one size."""
        sizes, stocks = money.sizes_of_blanks(layouts)
        price = money.further_size(self.job)
        self.charge("furtherSizes", {units_ * sum(len(own) - 1 for own in sizes.values()) for units_ in price})
        for part in self.job["parts"]:
            own, sources = sizes.get(part["id"], set()), stocks.get(part["id"], set())
            if own:
                low, high = facing.get(part["id"], (0, 0))
                facing[part["id"]] = (low + min(price) * (len(own) - 1), high + max(price) * (len(own) - 1))
            if part.get("oneStock") and len(sources) > 1:
                self.differs(f"part {part['id']}: stocks", len(sources), 1)
            if part.get("oneSize") and len(own) > 1:
                self.differs(f"part {part['id']}: sizes of blanks", len(own), 1)

    def demand(self, layouts):
        there = {}
        for one in layouts:
            for piece in (piece for piece in one.raw["pieces"] if "spare" not in piece):
                there[piece["part"]] = there.get(piece["part"], 0) + one.count
        for missing in self.plan["unplaced"]:
            there[missing["part"]] = there.get(missing["part"], 0) + missing["count"]
        for part in self.job["parts"]:
            if "extraPercent" in part:
                asked = Fraction(part["quantity"] * self.job["batch"]) * fraction(part["extraPercent"]) / 100
                self.equal(f"part {part['id']}: extra", part["extra"], -(-asked.numerator // asked.denominator))
            self.equal(f"part {part['id']}: pieces", there.get(part["id"], 0), part["gang"]["blanks"] if "gang" in part else part["quantity"] * self.job["batch"] + part["extra"])
        asked, given = {}, {}
        for part in self.job["parts"]:
            if "gang" not in part:
                continue
            if "perBlank" not in part or blanks.gang_problem(self.job, part):
                self.found.append(f"part {part['id']}: {blanks.gang_problem(self.job, part) if 'perBlank' in part else 'no number per blank'}")
            for member in part["gang"]["members"]:
                asked.setdefault(member["part"], member["asked"])
                given[member["part"]] = given.get(member["part"], 0) + member["count"] * part["gang"]["blanks"]
        for name, count in given.items():
            self.equal(f"part {name}: parts from gang blanks", count, asked[name])

    def orders(self, layouts):
        used = {}
        for one in layouts:
            used[one.stock["id"]] = used.get(one.stock["id"], 0) + one.count
        for stock in self.job["stocks"]:
            most = stock.get("available", 1 if "rackMark" in stock else None)
            if most is not None and used.get(stock["id"], 0) > most:
                self.differs(f"stock {stock['id']}: pieces", used[stock["id"]], f"at most {most}")
        right = money.orders(self.job, used)
        self.charge("ordering", money.ordering(self.job, right))
        self.equal("orders: suppliers", sorted(order["supplier"].casefold() for order in self.plan["orders"]), sorted(right))
        if len(right) > self.job.get("mostSuppliers", len(right)):
            self.differs("orders", len(right), "fewer")
        beyond = 0
        for order in self.plan["orders"]:
            lines, goods, top_up, delivery = right.get(order["supplier"].casefold(), (set(), 0, 0, 0))
            where = f"order {order['supplier']}"
            given = {(line["stock"], line["count"], units(line["listed"]), units(line["cost"])) for line in order["lines"]}
            self.equal(f"{where}: lines", given, lines)
            for name, value in (("goods", goods), ("topUp", top_up), ("delivery", delivery), ("total", goods + top_up + delivery)):
                self.within(f"{where}: {name}", order[name], {value})
            beyond += goods + top_up + delivery - sum(listed for _, _, listed, _ in lines)
        return beyond

    def part_costs(self, layouts, beyond, facing):
        right = money.part_costs(self.job, layouts, beyond)
        given = [(cost["part"], cost["pieces"], units(cost["metal"]), units(cost["saw"])) for cost in self.plan["partCosts"]]
        if len(given) != len(right):
            self.differs("partCosts", [cost[0] for cost in given], [cost[0] for cost in right])
        for one, other in zip(given, right):
            self.equal(f"cost of {one[0]}", one, other)
        for cost in self.plan["partCosts"]:
            low, high = facing.get(cost["part"], (0, 0))
            self.within(f"cost of {cost['part']}: facing", cost["facing"], range(low, high + 1))
            self.within(f"cost of {cost['part']}", cost["total"], {sum(units(cost[name]) for name in ("metal", "saw", "facing"))})

    def bound(self):
        plan = self.plan
        cost, bound = units(plan["totalCost"]), plan.get("lowerBound")
        self.equal("boundSource", "boundSource" in plan, bound is not None)
        bound = None if bound is None else units(bound)
        gap = None
        if bound is not None and bound <= cost + 10:
            if cost <= bound:
                gap = Fraction(0)
            elif bound > 0:
                gap = Fraction(half_away(Fraction(cost - bound, bound) * 10 ** 6), 10 ** 6)
        self.equal("gap", None if "gap" not in plan else fraction(plan["gap"]), gap)
        if plan["status"] == "proven" and (bound is None or not -10 <= cost - bound < 100):
            self.differs("status", "proven", "best-found")
        if plan["status"] == "not-found" and plan["layouts"]:
            self.differs("status", "not-found", "best-found")

    def lists(self, layouts):
        plan = self.plan
        buy, take, left = {}, {}, {}
        costs = {line["stock"]: line["cost"] for order in plan["orders"] for line in order["lines"]}
        for one in layouts:
            stock = one.stock
            self.equal(f"layout {one.number}: form", one.raw["form"], stock["form"])
            if "rackMark" in stock:
                take[stock["id"]] = {"stock": stock["id"], "mark": stock["rackMark"]} | ({"place": stock["place"]} if "place" in stock else {})
            else:
                line = buy.setdefault(stock["id"], {
                    "stock": stock["id"], "form": stock["form"], "material": stock["materialId"], "count": 0, "piecePrice": stock["piecePrice"],
                    "total": costs.get(stock["id"])} | ({"supplier": stock["supplier"]} if "supplier" in stock else {}))
                line["count"] += one.count
            for offcut in one.raw["offcuts"]:
                size = offcut["area"][2:] if one.bar else sorted(offcut["area"][2:], reverse=True)
                key = (one.number, offcut["keep"], *size, offcut["value"])
                left.setdefault(key, {"layout": one.number, "stock": stock["id"], "keep": offcut["keep"], "length": size[0],
                                      "width": size[1], "count": 0, "value": offcut["value"]})["count"] += one.count
        self.equal("buy", plan["buy"], list(buy.values()))
        self.equal("take", plan["take"], list(take.values()))
        self.equal("offcuts", plan["offcuts"], list(left.values()))


def main(files):
    wrong = 0
    for file in files:
        try:
            with open(file, encoding="utf-8") as text:
                plan = json.load(text, parse_float=Decimal)
            found = Checker(plan).run()
        except (OSError, ValueError, KeyError, IndexError, TypeError, StopIteration) as problem:
            found = [f"cannot be read as a plan: {type(problem).__name__} {problem}"]
        wrong += bool(found)
        print(f"{file}: " + ("OK" if not found else f"{len(found)} differ"))
        for line in found[:40]:
            print("    " + line)
    return 1 if wrong or not files else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
