"""A layout of the file with its names looked up and its lengths in nanometres; geometry and limits of the saw ('Layouts' of plan-format.md)."""

from amounts import nm
from blanks import same, shorter_edge

EDGES = ("left", "right", "bottom", "top")


def rect(values):
    return tuple(nm(value) for value in values)


def node_children(tree, node):
    return [tree[number] for number in node["children"]]


def single(tree, node):
    """A split whose only child has its own area makes no cut: that child."""
    while node["kind"] == "split" and len(node["children"]) == 1 and tree[node["children"][0]]["rect"] == node["rect"]:
        node = tree[node["children"][0]]
    return node


class Layout:
    def __init__(self, job, raw):
        self.job, self.raw, self.number, self.count = job, raw, raw["number"], raw["count"]
        self.stock = next(stock for stock in job["stocks"] if stock["id"] == raw["stock"])
        self.material = next(one for one in job["materials"] if same(one["id"], self.stock["materialId"]))
        self.bar = self.stock["form"] != "plate"
        if raw["saw"] == "supplier":
            self.saw_raw = {"id": "supplier", "kind": "bar-saw" if self.bar else "plate-saw", "kerf": 0, "shortestHeld": 0,
                            "trims": dict.fromkeys(EDGES, 0)}
        else:
            self.saw_raw = next(saw for saw in job["saws"] if saw["id"] == raw["saw"])
        self.cutter = self.saw_raw["kind"] == "cutter"
        self.kerf, self.held = nm(self.saw_raw["kerf"]), nm(self.saw_raw["shortestHeld"])
        self.saw = dict(self.saw_raw)
        if "largestCut" in self.saw:
            self.saw["largestCut"] = nm(self.saw["largestCut"])
        self.sheet = rect(raw["sheet"])[2:]
        self.trims = [nm(raw["trims"][edge]) for edge in EDGES]
        self.thickness = nm(self.stock["thickness"])
        self.pieces = [rect(piece["area"]) for piece in raw["pieces"]]
        self.ends = [piece.get("ends") for piece in raw["pieces"]]
        self.offcuts = [rect(offcut["area"]) for offcut in raw["offcuts"]]
        self.tree = [dict(node, rect=rect(node["area"])) for node in raw.get("tree", [])]
        # A layout without pieces is bought stock that nobody cuts.
        self.whole = not self.pieces

    def problems(self):
        yield from self._sheet()
        yield from self._places()
        if self.cutter:
            if self.tree and not self.whole:
                yield "a cutter has no tree"
        elif not self.whole:
            yield from self._tree()
            yield from self._limits()

    def _right_saw(self):
        for saw in self.job["saws"]:
            if (saw["kind"] == "bar-saw") != self.bar or self.thickness > nm(saw.get("largestThickness", self.stock["thickness"])):
                continue
            if "longestStock" in saw and max(nm(self.stock["length"]), nm(self.stock["width"])) > nm(saw["longestStock"]):
                continue
            if not self.bar or nm(self.stock["width"]) <= nm(saw.get("largestCut", self.stock["width"])):
                return saw["id"]
        return None

    def _sheet(self):
        right = "supplier" if "cutFor" in self.stock else self._right_saw()
        if self.raw["saw"] != right:
            yield f"is cut by {self.raw['saw']}, the first saw that takes {self.stock['id']} is {right}"
        if rect(self.raw["sheet"]) != (0, 0, nm(self.stock["minLength"]), nm(self.stock["minWidth"])):
            yield "the sheet is not the stock's smallest size"
        for at, edge in enumerate(EDGES):
            free = self.whole or (self.bar and at > 1) or (not self.cutter and self.stock["cleanEdges"][edge])
            if self.trims[at] != (0 if free else nm(self.saw_raw["trims"][edge])):
                yield f"the {edge} trim is wrong"
        if self.whole and (len(self.offcuts) != 1 or self.offcuts[0] != (0, 0, *self.sheet) or not self.raw["offcuts"][0]["keep"]
                           or "rackMark" in self.stock or "cutFor" in self.stock):
            yield "has no piece and is not bought stock kept whole"
        if self.whole and self.tree and (len(self.tree) > 1 or self.tree[0]["kind"] != "offcut" or self.tree[0]["rect"] != (0, 0, *self.sheet)):
            yield "nothing is cut, but its tree is not the one offcut"
        if "cutFor" in self.stock and (len(self.pieces) != 1 or self.raw["pieces"][0]["part"] != self.stock["cutFor"]
                                       or self.pieces[0] != (0, 0, *self.sheet) or self.offcuts):
            yield "is not one blank cut to size"

    def _places(self):
        left, right, bottom, top = self.trims
        things = self.pieces + self.offcuts
        for x, y, w, h in things:
            if x < left or y < bottom or x + w > self.sheet[0] - right or y + h > self.sheet[1] - top:
                yield "something lies in a trim or beyond the edge"
        # Sorted by x: what begins behind this one and a kerf cannot meet it.
        order = sorted(things)
        for at, (x, y, w, h) in enumerate(order):
            for x2, y2, w2, h2 in order[at + 1:]:
                if x2 >= x + w + self.kerf:
                    break
                if y2 < y + h + self.kerf and y < y2 + h2 + self.kerf:
                    yield "two pieces or offcuts are less than a kerf apart"
        gap = self.kerf if self.cutter else 0
        for damage in self.stock.get("keepOuts", []):
            dx, dy, dw, dh = rect(damage)
            if any(x < dx + dw + gap and dx - gap < x + w and y < dy + dh + gap and dy - gap < y + h for x, y, w, h in self.pieces):
                yield "a piece lies on damage"

    def _tree(self):
        if not self.tree:
            yield "has no tree"
            return
        left, right, bottom, top = self.trims
        if self.tree[0]["rect"] != (left, bottom, self.sheet[0] - left - right, self.sheet[1] - bottom - top):
            yield "the tree does not start at the sheet within its trims"
        seen = {"piece": [0] * len(self.pieces), "offcut": [0] * len(self.offcuts)}
        parents = [0] * len(self.tree)
        from_right = self.bar and left > 0 and self.stock["cleanEdges"]["right"]
        for number, node in enumerate(self.tree):
            if node["kind"] != "split":
                seen[node["kind"]][node["index"]] += 1
                if node["rect"] != (self.pieces if node["kind"] == "piece" else self.offcuts)[node["index"]]:
                    yield f"node {number} is not where its {node['kind']} lies"
                continue
            for child in node["children"]:
                parents[child] += 1
                if child <= number:
                    yield f"node {number} has a child before it"
            yield from self._split(node, from_right and number == 0)
        if any(times != 1 for times in seen["piece"] + seen["offcut"] + parents[1:]) or parents[0]:
            yield "pieces, offcuts or nodes are not each once in the tree"

    def _split(self, node, from_right):
        if self.bar and node["direction"] == "along":
            yield "a bar is cut lengthwise"
        way = 1 if node["direction"] == "along" else 0
        at, end = node["rect"][way], node["rect"][way] + node["rect"][way + 2]
        children = [child["rect"] for child in node_children(self.tree, node)]
        if from_right and 0 < children[0][0] - at <= self.kerf:
            at = children[0][0]
        for number, child in enumerate(children):
            if child[1 - way] != node["rect"][1 - way] or child[3 - way] != node["rect"][3 - way]:
                yield "a cut does not go from edge to edge"
            if child[way] != at + (self.kerf if number else 0):
                yield "children are not one kerf apart"
            at = child[way] + child[way + 2]
        if not 0 <= end - at <= (0 if from_right else self.kerf):
            yield "behind the last child lies more than a kerf"

    def _makes_cuts(self, node):
        way = 1 if node["direction"] == "along" else 0
        last = self.tree[node["children"][-1]]["rect"]
        return len(node["children"]) > 1 or last[way] + last[way + 2] != node["rect"][way] + node["rect"][way + 2]

    def _limits(self):
        most = self.saw_raw.get("mostPieces")
        if most is not None and len(self.pieces) > most:
            yield "has too many pieces for its saw"
        longest = self.saw.get("largestCut")
        left, right, bottom, top = self.trims
        inner = [self.sheet[0] - left - right, self.sheet[1] - bottom - top]
        if not self.bar and longest is not None and self.saw_raw["kind"] == "plate-saw":
            if (left or right) and self.sheet[1] > longest or (bottom or top) and inner[0] > longest:
                yield "a trim is a longer cut than the saw makes"
        stages, deepest = self.saw_raw.get("stages"), 0
        first = None
        open_nodes = [(self.tree[0], 0, None)]
        while open_nodes:
            node, stage, before = open_nodes.pop()
            if node["kind"] != "split":
                continue
            children = node_children(self.tree, node)
            way = 1 if node["direction"] == "along" else 0
            if self._makes_cuts(node):
                first = first or node["direction"]
                stage += node["direction"] != before
                before = node["direction"]
                leaves = all(child["kind"] != "split" for child in children) and sum(child["kind"] == "piece" for child in children) <= 1
                trimming = stages is not None and self.saw_raw["trimmingCut"] and stage == stages + 1 and leaves
                deepest = max(deepest, stages if trimming else stage)
                if not self.bar and longest is not None and node["rect"][3 - way] > longest:
                    yield "a cut is longer than the saw makes"
                if not self.bar and self.held and max(child["rect"][way + 2] for child in children) < self.held:
                    yield "a cut leaves nothing to hold"
            open_nodes += [(child, stage, before) for child in reversed(children)]
        if stages is not None and deepest > stages:
            yield "has too many stages of cuts"
        if not self.bar and first is not None and first != self.saw_raw.get("firstCut", first):
            yield "the first cut has the wrong direction"
        if not self.bar and self.held and ((left or right) and inner[0] < self.held or (bottom or top) and inner[1] < self.held):
            yield "trimming leaves nothing to hold"
        if self.bar and "cutFor" not in self.stock:
            yield from self._bar()

    def _bar(self):
        left, right = self.trims[:2]
        clean_right = self.stock["cleanEdges"]["right"]
        from_right, cut_left = left > 0 and clean_right, left > 0 and not clean_right
        pieces = sorted(self.pieces, reverse=from_right)
        if len(self.offcuts) > 1 or any(x > pieces[-1][0] if from_right else x < pieces[-1][0] for x, y, w, h in self.offcuts):
            yield "the rest of a bar is not one piece behind all blanks"
        if max(w for x, y, w, h in self.pieces + self.offcuts) < self.held:
            yield "nothing on the bar is long enough to hold"
        metal = self.sheet[0] - (left if cut_left else 0)
        for x, y, w, h in pieces:
            metal -= w + self.kerf
            if metal < self.held and w < self.held:
                yield "a cut leaves nothing to hold"
        for piece, ends in zip(self.raw["pieces"], self.ends):
            part = next(part for part in self.job["parts"] if part["id"] == piece["part"])
            if ends and shorter_edge(part, ends) < self.held:
                yield "the shorter edge between angled ends is too short to hold"
