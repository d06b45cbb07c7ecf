"""'Cost at the saw' (without loading) and 'Settings' of plan-format.md: the cuts of one layout, their lengths and their stops."""

from fractions import Fraction

from amounts import NM2_PER_CM2, fraction, nearest, secant, up
from blanks import same, section, taken
from layouts import node_children, single

ALONG, ACROSS = 0, 1


def sawing(saw, material, cuts, area):
    """Units that so many cuts through an area in square nanometres may cost."""
    rate = next((one["squareCentimetresPerMinute"] for one in saw["cutRates"] if same(one["family"], material["family"])),
                saw["defaultCutRate"])
    minutes = cuts * fraction(saw["handlingMinutes"]) + Fraction(area, NM2_PER_CM2) / fraction(rate)
    return nearest(minutes * fraction(saw["hourlyRate"]) / 60 + cuts * fraction(saw["chargePerCut"]))


class Cuts:
    """What is cut off of one layout, and its cuts. 'one' is a layouts.Layout."""

    def __init__(self, one):
        self.one = one
        left, right, bottom, top = one.trims
        clean_right = one.stock["cleanEdges"]["right"]
        if one.bar:
            self.left = left > 0 and not clean_right
            self.from_right = left > 0 and clean_right
            self.right = self.bottom = self.top = False
        else:
            self.left, self.bottom, self.from_right = left > 0, bottom > 0, False
            reach = one.saw.get("largestCut")
            self.right = right > 0 and ((reach is not None and one.sheet[0] > reach)
                                        or any(x + w == one.sheet[0] - right for x, y, w, h in one.pieces))
            self.top = top > 0 and ((reach is not None and one.sheet[1] > reach)
                                    or any(y + h == one.sheet[1] - top for x, y, w, h in one.pieces))

    # Lengths of cuts

    def plate_lengths(self):
        one = self.one
        inner = one.sheet[0] - (one.trims[0] if self.left else 0) - (one.trims[1] if self.right else 0)
        lengths = [one.sheet[1]] * (self.left + self.right) + [inner] * (self.bottom + self.top)
        for _, node in self.rows():
            children = node_children(one.tree, node)
            end, last = self._reach(node, node), self._reach(children[-1], node)
            lengths += [self._breadth(node)] * (len(children) - 1 + (end != last))
        return lengths

    def _breadth(self, node):
        x, y, w, h = node["rect"]
        if node["direction"] == "along":
            return w + (self.one.trims[1] if not self.right and x + w == self.one.sheet[0] - self.one.trims[1] else 0)
        return h + (self.one.trims[3] if not self.top and y + h == self.one.sheet[1] - self.one.trims[3] else 0)

    def cost(self):
        """Units that one stock piece may cost at the saw."""
        one = self.one
        if one.saw["id"] == "supplier" or not one.pieces:
            return {0}
        thickness = one.thickness
        if one.cutter:
            outline = sum(2 * w + 2 * h for x, y, w, h in one.pieces)
            return sawing(one.saw, one.material, len(one.pieces), outline * thickness)
        if not one.bar:
            lengths = self.plate_lengths()
            return sawing(one.saw, one.material, len(lengths), sum(lengths) * thickness)
        area = section(one.stock)
        square = sawing(one.saw, one.material, 1, area)
        totals = {units * (len(one.pieces) + self.left) for units in square}
        for ends in one.ends:
            for angle in (ends["start"], ends["end"]) if ends else ():
                if angle != 0:
                    slanted = sawing(one.saw, one.material, 1, up(area * secant(Fraction(angle))))
                    totals = {total + units for total in totals for units in slanted}
        return totals

    # Stops

    def rows(self):
        """Every split that makes cuts, with its level, in the order of the tree."""
        if not self.one.tree:
            return
        open_nodes = [(0, self.one.tree[0])]
        while open_nodes:
            level, node = open_nodes.pop(0)
            node = single(self.one.tree, node)
            if node["kind"] == "split":
                yield level, node
                open_nodes = [(level + 1, child) for child in node_children(self.one.tree, node)] + open_nodes

    def settings(self):
        """Number of settings, first stop, last stop."""
        one = self.one
        if one.cutter or one.saw["id"] == "supplier" or not one.pieces:
            return 0, None, None
        marks, stops = self._bar_stops() if one.bar else (0, self._plate_stops())
        slanted = set()
        for (x, y, w, h), ends in zip(one.pieces, one.ends):
            if ends:
                pair = [ends["start"], ends["end"]]
                if abs(pair[1]) < abs(pair[0]):
                    pair.reverse()
                for angle in pair:
                    if angle != 0:
                        w -= taken(angle, one.saw_raw, one.job)
                        slanted.add((ACROSS, w, abs(Fraction(angle))))
        stops += sorted(slanted, key=lambda stop: (stop[2], -stop[1]))
        changes = sum(1 for at, stop in enumerate(stops) if at == 0 or stops[at - 1] != stop)
        return marks + changes, stops[0] if stops else None, stops[-1] if stops else None

    def _bar_stops(self):
        one = self.one
        marks, stops = int(self.left), []
        metal = one.sheet[0] - (one.trims[0] if self.left else 0)
        sizes = [w for x, y, w, h in sorted(one.pieces)]
        for size in reversed(sizes) if self.from_right else sizes:
            metal = max(0, metal - size - one.kerf)
            if metal < one.held:
                marks += 1
            else:
                stops.append((ACROSS, size, Fraction(0)))
        return marks, stops

    def _plate_stops(self):
        one = self.one
        left, right, bottom, top = one.trims
        stops = []
        for made, direction, measure in (
                (self.left, ACROSS, one.sheet[0] - left), (self.right, ACROSS, one.sheet[0] - left - right),
                (self.bottom, ALONG, one.sheet[1] - bottom), (self.top, ALONG, one.sheet[1] - bottom - top)):
            if made:
                stops.append((direction, measure, Fraction(0)))
        levels = {}
        for level, node in self.rows():
            direction = ALONG if node["direction"] == "along" else ACROSS
            levels.setdefault(level, []).append([(direction, measure, Fraction(0)) for measure in self._measures(node)])
        now = None
        for level in sorted(levels):
            rows = [row for row in levels[level] if row]
            while rows:
                heads = [row[0] for row in rows]
                if now not in heads:
                    now = min(heads, key=lambda stop: (stop[1], stop[0]))
                stops.append(now)
                for row in rows:
                    while row and row[0] == now:
                        row.pop(0)
                rows = [row for row in rows if row]
        return stops

    def _reach(self, part, node):
        """The end of a node's child (or of the node) in the divided direction; of a raw edge that stays on, the edge."""
        x, y, w, h = part["rect"]
        along = node["direction"] == "along"
        end, sheet, trim, off = (y + h, self.one.sheet[1], self.one.trims[3], self.top) if along else (
            x + w, self.one.sheet[0], self.one.trims[1], self.right)
        return sheet if end == sheet - trim and not off else end

    def _measures(self, node):
        one = self.one
        children = node_children(one.tree, node)
        starts = [child["rect"][1 if node["direction"] == "along" else 0] for child in children]
        ends = [self._reach(child, node) for child in children]
        sizes = [end - start for start, end in zip(starts, ends)]
        waste = [single(one.tree, child)["kind"] == "offcut" for child in children]
        whole, last = self._reach(node, node), len(children) - 1
        held = max([at for at, size in enumerate(sizes) if size >= one.held], default=last)
        behind_last = whole != ends[last]
        found = []
        for at in range(held):
            only_less = all(waste[at + 1:]) and ends[last] - starts[at + 1] < sizes[at]
            found.append((whole if behind_last else ends[last]) - starts[at + 1] if waste[at] and not only_less else sizes[at])
        if behind_last:
            found.append(ends[last] - starts[held])
        for at in range(last, held, -1):
            found.append(ends[at - 1] - starts[held] if waste[at] else sizes[at])
        return found
