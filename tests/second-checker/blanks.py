"""'What a part may come from' of plan-format.md: every size that is right for a part on a stock, with its facing."""

from math import floor

from amounts import NM3_PER_CM3, PI, Fraction, circle, fraction, nearest, nm, secant, tangent, up

ROOT_OF_THREE = Fraction("1.73205080756887729353")
NAMES = ("sideCleanUp", "endCleanUp", "faceTop", "faceBottom", "grip")


def same(one, other):
    return one.casefold() == other.casefold()


class Blank:
    """x along the stock, y across it, both in nanometres, as not turned; facing: the units that it may cost."""

    def __init__(self, x, y, turned, facing, ends=None):
        self.x, self.y, self.turned, self.facing, self.ends = x, y, turned, facing, ends


def allowances(job, part, material):
    found = dict.fromkeys(NAMES, 0)
    ruled = "detail" not in part or part["forms"] in ("hex-bar", "round-tube")
    for rule in job["allowanceRules"] if ruled else []:
        if (("materialId" not in rule or same(rule["materialId"], material["id"]))
                and ("family" not in rule or same(rule["family"], material["family"]))
                and ("holding" not in rule or rule["holding"] == part["holding"])):
            found.update({name: nm(rule["allowances"][name]) for name in NAMES if name in rule["allowances"]})
    own = part.get("allowances") or {}
    found.update({name: nm(own[name]) for name in NAMES if name in own})
    return [found[name] for name in NAMES]


def section(stock):
    """Area of metal, nominal or as listed, in square nanometres."""
    if "listedSection" in stock:
        return int(fraction(stock["listedSection"]) * 10 ** 12)
    b, h = nm(stock["width"]), nm(stock["thickness"])
    detail = stock.get("detail", {})
    t = nm(detail.get("wall", 0))
    f = nm(detail.get("flange", detail.get("wall", 0)))
    form = stock["form"]
    if form == "round-bar":
        return circle(b)
    if form == "hex-bar":
        return floor(b * b * ROOT_OF_THREE / 2)
    if form == "round-tube":
        return floor((b * b - (b - 2 * t) ** 2) * PI / 4)
    return {"rectangular-tube": b * h - (b - 2 * t) * (h - 2 * t), "angle": t * (b + h - t), "channel": 2 * h * f + (b - 2 * f) * t,
            "tee": b * f + (h - f) * t}.get(form, b * h)


def same_section(part, stock):
    def key(one):
        detail = one["detail"]
        wall = detail.get("wall", 0)
        return nm(one["width"]), nm(one["thickness"]), nm(wall), nm(detail.get("flange", wall)), detail.get("name", "").casefold()
    return "detail" in stock and stock["form"] == part["forms"] and key(part) == key(stock)


def section_problem(one, form):
    """What is wrong with the section of a stock, or of a part that asks for it; empty: nothing."""
    b, h, detail = nm(one["width"]), nm(one["thickness"]), one["detail"]
    t, f = nm(detail.get("wall", 0)), nm(detail.get("flange", detail.get("wall", 0)))
    if ("wall" in detail) == (form in ("hex-bar", "profile")) or ("name" in detail) != (form == "profile"):
        return "has a wall or name that it cannot have, or lacks one"
    if "flange" in detail and form not in ("channel", "tee"):
        return "has no flange"
    if (form in ("hex-bar", "round-tube") and b != h) or (form in ("rectangular-tube", "angle") and b < h):
        return "has outer sizes that it cannot have"
    room = {"round-tube": 2 * t < h, "rectangular-tube": 2 * t < h, "angle": t < h, "channel": 2 * f < b and t < h, "tee": f < h and t < b}
    return "" if room.get(form, True) else "has no room within its walls"


def facing(job, material, volume):
    """volume in cubic nanometres."""
    if volume <= 0:
        return {0}
    mill = job["mill"]
    rate = next((one["cubicCentimetresPerMinute"] for one in mill["removalRates"] if same(one["family"], material["family"])),
                mill["defaultRemovalRate"])
    return nearest(Fraction(volume, NM3_PER_CM3) / fraction(rate) * fraction(mill["hourlyRate"]) / 60)


def reaches(need, smallest, nominal, stays):
    return need <= smallest or (stays and need == nominal)


def certified(job, stock):
    if "rackMark" in stock:
        return bool(stock.get("heat"))
    return any(one.get("givesCertificates") and same(one["name"], stock.get("supplier") or "") for one in job["suppliers"])


def ruled_out(job, part, stock):
    if part.get("certificate") and not certified(job, stock):
        return True

    def named(names):
        means = [stock["id"], stock.get("rackMark", "")]
        if "cutFor" in stock:
            means.append(stock["id"].removesuffix(" cut for " + stock["cutFor"]))
        return any(same(name, one) for name in names for one in means)

    size = [nm(part[name]) for name in ("length", "width", "thickness")]
    thin = size[2] if stock["form"] == "plate" and not part["round"] else min(size)
    for rule in job.get("stockRules", []):
        if rule["parts"] and not any(same(name, part["id"]) for name in rule["parts"]):
            continue
        if ((rule["only"] and not named(rule["only"])) or named(rule["not"])
                or any(same(name, stock.get("supplier") or "") for name in rule["notFrom"])
                or ("atMostThicker" in rule and "detail" not in part and nm(stock["thickness"]) > thin + nm(rule["atMostThicker"]))):
            return True
    return False


def block(part):
    """The part with the sizes of all that is milled from one blank."""
    if "gang" not in part:
        return part
    gap = nm(part["perBlank"]["gap"])
    rows, columns = part["gang"]["rows"], part["gang"]["columns"]
    mm = Fraction(1, 10 ** 6)
    return dict(part, length=(nm(part["length"]) * columns + gap * (columns - 1)) * mm, width=(nm(part["width"]) * rows + gap * (rows - 1)) * mm)


def whole_milling(job, part, material, stock, blank):
    """All that the mill takes off, clamping, and setting up for a rest."""
    gang = part.get("gang", {})
    length, width, thick = _measures(part)
    metal = blank.x * blank.y * nm(stock["thickness"]) if stock["form"] == "plate" else section(stock) * blank.x
    volume = metal - length * width * thick * gang.get("rows", 1) * gang.get("columns", 1)
    rate = fraction(job["mill"]["hourlyRate"]) / 60
    clamping = nearest(fraction(job["mill"].get("blankMinutes", 0)) * rate)
    setting = nearest(fraction(job.get("fuss", {}).get("furtherSizeMinutes", 0)) * rate) if gang.get("rest") else {0}
    return {a + b + c for a in facing(job, material, volume) for b in clamping for c in setting}


def sizes(job, part, material, stock, saw):
    """All blanks of the part that are right on this stock."""
    if "perBlank" not in part:
        return _sizes(job, part, material, stock, saw)
    found = _sizes(job, block(part), material, stock, saw)
    for blank in found:
        blank.facing = whole_milling(job, part, material, stock, blank)
    return found


def gang_problem(job, part):
    """What is wrong with the number of parts in its blanks; empty: nothing."""
    rule, gang = part["perBlank"], part["gang"]
    count = gang["rows"] * gang["columns"]
    if sum(member["count"] for member in gang["members"]) != count or gang["members"][0]["asked"] != part["quantity"] * job["batch"] + part["extra"]:
        return "its members do not fill it"
    if len(gang["members"]) == 2 and (gang["members"][0]["count"] != gang["members"][1]["count"] or not same(gang["members"][1]["part"], rule.get("with", ""))):
        return "its two hands are not half and half"
    if rule["counts"] and count > max(rule["counts"]):
        return "holds more than is allowed"
    if count > 1:
        material = next(one for one in job["materials"] if same(one["id"], part["materialId"]))
        side, end = allowances(job, part, material)[:2]
        length, width, _ = _measures(block(part))
        shorter, longer = sorted((length + 2 * max(side, end), width + 2 * max(side, end)))
        mill = job["mill"]
        if (("travelX" in mill and longer > nm(mill["travelX"])) or ("travelY" in mill and shorter > nm(mill["travelY"]))
                or ("viseOpening" in mill and part["holding"] in ("vise", "soft-jaws") and shorter > nm(mill["viseOpening"]))):
            return "is larger than the mill takes"
    return ""


def _sizes(job, part, material, stock, saw):
    if not same(part["materialId"], stock["materialId"]) or ruled_out(job, part, stock):
        return []
    asked = part["forms"].split(", ")
    if stock["form"] not in asked and not ("any" in asked and stock["form"] in ("plate", "flat-bar", "square-bar", "round-bar")):
        return []
    given = allowances(job, part, material)
    if stock["form"] == "plate":
        return _round_on_plate(job, part, material, stock, given) if part["round"] else _flat_on_plate(job, part, material, stock, given)
    ends = part.get("ends")
    sawn_ends = (ends is not None and saw["id"] != "supplier" and given[1] == 0
                 and not ((part["round"] or "detail" in part) and part["holding"] == "chuck" and given[4] > 0)
                 and (ends["start"] != 0 or ends["end"] != 0))
    if sawn_ends:
        part = dict(part, mayTurn=False)
    if "detail" in part:
        found = _length_of_section(part, stock, given)
    else:
        found = _round_on_bar(job, part, material, stock, given) if part["round"] else _flat_on_bar(job, part, material, stock, given)
    if sawn_ends:
        for blank in found:
            blank.x += sum(taken(angle, saw, job) for angle in (ends["start"], ends["end"])) + _milled(job, part, stock, ends)
            blank.ends = ends
    return found


def _measures(part):
    return [nm(part[name]) for name in ("length", "width", "thickness")]


def _flat_on_plate(job, part, material, stock, given):
    s, _, t, b, g = given
    length, width, thick = _measures(part)
    smallest, nominal = nm(stock["minThickness"]), nm(stock["thickness"])
    stay = part["millFaces"] and stock["goodFaces"]
    x, y = length + 2 * s, width + 2 * s
    height = thick + g + (0 if stay else t + b)
    found = []
    if reaches(height, smallest, nominal, stay and g == 0):
        found.append(Blank(x, y, False, facing(job, material, x * y * (nominal - height))))
    if part.get("lie") == "any":
        low = thick + g + max(t, s) + max(b, s)
        for along, high in [(length, width)] + ([(width, length)] if part["mayTurn"] else []):
            if high + 2 * s <= smallest:
                found.append(Blank(along + 2 * s, low, False, facing(job, material, (along + 2 * s) * low * (nominal - high - 2 * s))))
    return found


def _round_on_plate(job, part, material, stock, given):
    s, e, t, b, g = given
    length, diameter, _ = _measures(part)
    smallest, nominal = nm(stock["minThickness"]), nm(stock["thickness"])
    stay = part["millFaces"] and stock["goodFaces"]
    grip = g if part["holding"] == "chuck" else 0
    wide, axis = diameter + 2 * s, length + 2 * e + grip
    upright = length + grip + (0 if stay else t + b)
    found = []
    if wide <= smallest:
        found.append(Blank(axis, wide, False, facing(job, material, (wide * nominal - circle(wide)) * axis)))
    if part["mayTurn"] and reaches(upright, smallest, nominal, stay and grip == 0):
        found.append(Blank(wide, wide, True, facing(job, material, wide * wide * nominal - circle(wide) * upright)))
    return found


def _in_section(stock, one, one_stays, other, other_stays):
    width, thick = (nm(stock["minWidth"]), nm(stock["width"])), (nm(stock["minThickness"]), nm(stock["thickness"]))
    if stock["form"] == "round-bar":
        return one * one + other * other <= width[0] ** 2
    return any(reaches(a, *width, a_stays) and reaches(b, *thick, b_stays)
               for a, a_stays, b, b_stays in ((one, one_stays, other, other_stays), (other, other_stays, one, one_stays)))


def _length_of_section(part, stock, given):
    if not same_section(part, stock):
        return []
    _, e, _, _, g = given
    return [Blank(nm(part["length"]) + 2 * e + (g if part["holding"] == "chuck" else 0), nm(stock["minWidth"]), False, {0})]


def _flat_on_bar(job, part, material, stock, given):
    s, e, t, b, g = given
    length, width, thick = _measures(part)
    is_round = stock["form"] == "round-bar"
    faces_stay = part["millFaces"] and stock["goodFaces"] and not is_round
    sides_stay = part["millSides"] and not is_round
    sides = 0 if sides_stay else 2 * s
    ways = [(length + 2 * e, length + sides, sides_stay), (width + 2 * e, width + sides, sides_stay),
            (thick + g + max(t, e) + max(b, e), thick + g + (0 if faces_stay else t + b), faces_stay and g == 0)]
    lie = part.get("lie")
    along = [0]
    if part["mayTurn"] and lie != "as-given":
        along += [1] if lie == "flat" else [1, 2]
    best = None
    for way in along:
        one, other = [ways[at] for at in range(3) if at != way]
        sawn = ways[way][0]
        if _in_section(stock, one[1], one[2], other[1], other[2]) and (best is None or sawn < best.x):
            best = Blank(sawn, nm(stock["minWidth"]), way > 0, facing(job, material, (section(stock) - one[1] * other[1]) * sawn))
    return [best] if best else []


def _round_on_bar(job, part, material, stock, given):
    s, e, t, b, g = given
    length, diameter, _ = _measures(part)
    is_round = stock["form"] == "round-bar"
    grip = g if part["holding"] == "chuck" else 0
    stays = is_round and part["millSides"]
    wide = diameter + (0 if stays else 2 * s)
    axis = length + 2 * e + grip
    min_width = nm(stock["minWidth"])
    best = None
    if reaches(wide, min_width, nm(stock["width"]), stays) if is_round else wide <= min(min_width, nm(stock["minThickness"])):
        best = Blank(axis, min_width, False, facing(job, material, (section(stock) - circle(wide)) * axis))
    if not is_round and stock["form"] != "hex-bar" and part["mayTurn"]:
        faces_stay = part["millFaces"] and stock["goodFaces"]
        sawn, across = diameter + 2 * e, length + grip + (0 if faces_stay else t + b)
        if (best is None or sawn < best.x) and _in_section(stock, wide, False, across, faces_stay and grip == 0):
            best = Blank(sawn, min_width, True, facing(job, material, section(stock) * sawn - circle(wide) * across))
    return [best] if best else []


def to_step(length, job):
    step = 25_400 if job["unit"] == "inch" else 10_000
    return up(Fraction(length, step)) * step


def taken(angle, saw, job):
    """What the cut of an end takes along the bar; nothing where it is square."""
    return 0 if angle == 0 else to_step(up(nm(saw["kerf"]) * secant(Fraction(angle))), job)


def _milled(job, part, stock, ends):
    if "detail" in part:
        return 0
    length, width, thick = _measures(part)
    across, rest = (thick, width) if ends["acrossThickness"] else (width, thick)
    if ends["acrossThickness"] and not part["round"]:
        stays = part["millFaces"] and stock["goodFaces"]
    else:
        stays = part["millSides"]
    bar = [nm(stock["width"]), nm(stock["thickness"])]
    if stays and across in bar:
        return 0
    surplus = max([side - across for side, other in (bar, bar[::-1]) if side >= across and other >= rest], default=0)
    slopes = {1: 0, -1: 0}
    for angle in (ends["start"], ends["end"]):
        if angle != 0:
            slopes[1 if angle > 0 else -1] += up(surplus * tangent(Fraction(angle)))
    return to_step(max(slopes.values()), job)


def shorter_edge(part, ends):
    across = nm(part["thickness"] if ends["acrossThickness"] else part["width"])
    edges = {1: nm(part["length"]), -1: nm(part["length"])}
    for angle in (ends["start"], ends["end"]):
        if angle != 0:
            edges[1 if angle > 0 else -1] -= up(across * tangent(Fraction(angle)))
    return min(edges.values())
