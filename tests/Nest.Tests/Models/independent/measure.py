"""Writes the drawings of this folder with ezdxf, and measures drawings and meshes with general-purpose libraries that share nothing with Nest:
ezdxf 0.18.1 (matrices of blocks, chords of curves), shapely 1.8.5 with GEOS (areas, boxes), scipy 1.10.1 with Qhull (convex hulls, optimising over
turns), admesh 0.98.4 (volumes of STL). All are Debian 12 packages: python3-ezdxf python3-shapely python3-scipy admesh.

    /usr/bin/python3 measure.py
"""
import itertools, json, math, pathlib, re, struct, subprocess
import ezdxf
import numpy
from ezdxf.math import Matrix44
from scipy.interpolate import CubicSpline
from scipy.optimize import minimize
from scipy.spatial import ConvexHull
from scipy.spatial.transform import Rotation
from shapely.geometry import LineString, Polygon
from shapely.ops import linemerge, polygonize, unary_union

here = pathlib.Path(__file__).parent
models = here.parent / "files"


def curves():
    """A cam: closed spline, a turned elliptic hole, a half ellipse closed by a line, a rational spline that is a circle, an ellipse seen from below."""
    doc = ezdxf.new("R2000")
    doc.header["$INSUNITS"] = 4
    msp = doc.modelspace()
    points = [(60 * math.cos(a) * (1 + 0.25 * math.cos(3 * a)) + 100, 45 * math.sin(a) + 80) for a in (2 * math.pi * i / 11 for i in range(11))]
    msp.add_spline(degree=3).control_points = [(x, y, 0) for x, y in points + points[:1]]
    msp[-1].knots = [0, 0, 0, 0] + list(range(1, 9)) + [9, 9, 9, 9]
    msp.add_ellipse((90, 80), (17 * math.cos(0.6), 17 * math.sin(0.6)), 0.4)
    msp.add_ellipse((300, 50), (40, 10), 0.55, 0, math.pi)
    a = msp[-1]
    msp.add_line(a.start_point, a.end_point)
    w = math.sqrt(0.5)
    ring = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1), (1, 0)]
    s = msp.add_spline(degree=2)
    s.control_points = [(25 * x + 300, 25 * y + 150, 0) for x, y in ring]
    s.weights = [1, w] * 4 + [1]
    s.knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4]
    e = msp.add_ellipse((420, 100), (12, 30), 0.3, 0.5, 4.0)
    e.dxf.extrusion = (0, 0, -1)
    msp.add_line(e.start_point, e.end_point)
    doc.saveas(here / "curves_mm.dxf")


def blocks():
    """An ear with a slot, put in plain, turned, turned over, stretched, in rows, within another block, and seen from below."""
    doc = ezdxf.new("R2000")
    doc.header["$INSUNITS"] = 1
    msp = doc.modelspace()
    ear = doc.blocks.new("EAR", base_point=(0.5, 0.25))
    ear.add_lwpolyline([(0, 0, 0), (3, 0, 0.5), (3, 1.5, 0), (0, 1.5, 0)], format="xyb", close=True)
    ear.add_circle((0.75, 0.75), 0.25)
    ear.add_arc((2, 0.75), 0.25, 270, 90)
    ear.add_line((2, 1), (1.5, 1))
    ear.add_arc((1.5, 0.75), 0.25, 90, 270)
    ear.add_line((1.5, 0.5), (2, 0.5))
    msp.add_blockref("EAR", (0, 0))
    msp.add_blockref("EAR", (10, 0), dxfattribs={"rotation": 33})
    msp.add_blockref("EAR", (0, 8), dxfattribs={"xscale": -1, "rotation": 120})
    msp.add_blockref("EAR", (12, 10), dxfattribs={"xscale": 2, "yscale": 0.8, "rotation": 15})
    rows = msp.add_blockref("EAR", (30, 0), dxfattribs={"rotation": 10})
    rows.grid(size=(2, 3), spacing=(2.5, 5))
    pair = doc.blocks.new("PAIR", base_point=(1, 1))
    pair.add_blockref("EAR", (1, 1), dxfattribs={"rotation": 90})
    pair.add_blockref("EAR", (6, 1), dxfattribs={"xscale": 1.5, "yscale": -1.5})
    msp.add_blockref("PAIR", (-20, 5), dxfattribs={"rotation": -40, "xscale": 1.25, "yscale": 0.75})
    below = msp.add_blockref("PAIR", (25, -20), dxfattribs={"rotation": 20})
    below.dxf.extrusion = (0, 0, -1)
    doc.saveas(here / "blocks_inch.dxf")


def through():
    """Splines that are given by points to go through alone: free ends, closed, with a direction at each end, and one in a turned and stretched block."""
    doc = ezdxf.new("R2000")
    doc.header["$INSUNITS"] = 4
    msp = doc.modelspace()

    def spline(space, points, closed=False, start=None, end=None):
        one = space.add_spline([(x, y, 0) for x, y in points])
        one.dxf.flags = 8 + closed
        if start:
            one.dxf.start_tangent, one.dxf.end_tangent = (*start, 0), (*end, 0)
        elif not closed:
            space.add_line((*points[-1], 0), (*points[0], 0))

    spline(msp, [(0, 0), (12, 31), (40, 44), (66, 25), (95, 38), (120, 0)])
    spline(msp, [(200 + (30 + 9 * math.cos(5 * a)) * math.cos(a), 60 + (24 + 7 * math.cos(5 * a)) * math.sin(a)) for a in (2 * math.pi * i / 17 for i in range(17))], closed=True)
    spline(msp, [(300, 0), (322, 8), (351, 3), (370, 40)], start=(3, 4), end=(0, 2))
    msp.add_line((370, 40), (300, 0))
    wave = doc.blocks.new("WAVE", base_point=(5, 5))
    spline(wave, [(0, 0), (10, 14), (25, 9), (33, 21), (50, 0)])
    msp.add_blockref("WAVE", (50, 150), dxfattribs={"rotation": 27, "xscale": 1.7, "yscale": -0.9})
    doc.saveas(here / "through_mm.dxf")


def chords(entity, steps=4000):
    """scipy's cubic spline over the lengths of the chords."""
    points = numpy.array([p[:2] for p in entity.fit_points])
    bc = "natural"
    if entity.dxf.flags & 1:
        points, bc = numpy.vstack([points, points[:1]]), "periodic"
    elif entity.dxf.hasattr("start_tangent"):
        bc = tuple((1, numpy.array([t.x, t.y]) / math.hypot(t.x, t.y)) for t in (entity.dxf.start_tangent, entity.dxf.end_tangent))
    at = numpy.concatenate([[0], numpy.cumsum(numpy.hypot(*numpy.diff(points, axis=0).T))])
    curve = CubicSpline(at, points, bc_type=bc)
    return [(x, y, 0) for x, y in curve(numpy.unique(numpy.concatenate([at, numpy.linspace(0, at[-1], steps)])))]


def placed(entities, place):
    """Entities with the product of the matrices of all blocks around them. (Taking blocks apart one level after the other loses a turned block in a
    stretched one: an INSERT has no skew.)"""
    for entity in entities:
        if entity.dxftype() != "INSERT":
            yield entity, place
            continue
        for one in entity.multi_insert() if entity.mcount > 1 else [entity]:
            yield from placed(one.block(), one.matrix44() * place)


def drawing(name, scale):
    lines = []
    for entity, place in placed(ezdxf.readfile(here / name).modelspace(), Matrix44.scale(scale, scale, scale)):
        # Chords of the curve itself; its paths take cubic curves for arcs, which are off by thousandths.
        ring = []
        for piece in entity.virtual_entities() if entity.dxftype() == "LWPOLYLINE" else [entity]:
            ends = (
                [piece.dxf.start, piece.dxf.end] if piece.dxftype() == "LINE"
                else chords(piece) if piece.dxftype() == "SPLINE" and not len(piece.control_points)
                else piece.flattening(2e-5 / scale))
            points = [(round(p[0], 5), round(p[1], 5)) for p in place.transform_vertices(ends)]
            if entity.dxftype() == "LWPOLYLINE":
                ring += points if not ring or math.dist(ring[-1], points[0]) < 1e-3 else points[::-1]
            else:
                lines.append(points)
        if ring:
            lines.append(ring + ring[:1])
    rings = [r for r in (Polygon(l) if l[0] == l[-1] and len(l) > 3 else None for l in lines) if r]
    open_ = [LineString(l) for l in lines if not (l[0] == l[-1] and len(l) > 3)]
    # Ends of one corner may differ in the last place.
    merged = []
    left = [list(l.coords) for l in open_]
    while left:
        chain = left.pop()
        while math.dist(chain[0], chain[-1]) > 1e-3:
            at = min(range(len(left)), key=lambda i: min(math.dist(chain[-1], left[i][0]), math.dist(chain[-1], left[i][-1])))
            more = left.pop(at)
            chain += more if math.dist(chain[-1], more[0]) < math.dist(chain[-1], more[-1]) else more[::-1]
        merged.append(Polygon(chain))
    rings += merged
    parts = []
    for ring in rings:
        if sum(other.contains(ring.representative_point()) and other.area > ring.area for other in rings) % 2 == 0:
            holes = sum(other.area for other in rings if other is not ring and ring.contains(other))
            x0, y0, x1, y1 = ring.bounds
            hull = ring.minimum_rotated_rectangle
            sides = sorted(math.dist(a, b) for a, b in itertools.islice(zip(hull.exterior.coords, hull.exterior.coords[1:]), 2))
            parts.append({"area": round(ring.area - holes, 3), "box": [round(x1 - x0, 4), round(y1 - y0, 4)], "rectangle": [round(s, 4) for s in sides[::-1]]})
    return sorted(parts, key=lambda part: (part["area"], part["box"]))


def stl(file):
    data = file.read_bytes()
    count = struct.unpack_from("<I", data, 80)[0] if len(data) >= 84 else 0
    if len(data) == 84 + 50 * count:
        at = numpy.frombuffer(data, dtype=numpy.dtype([("n", "<3f4"), ("v", "<9f4"), ("a", "<u2")]), offset=84)["v"].reshape(-1, 3)
    else:
        at = numpy.array([[float(x) for x in m.split()] for m in re.findall(r"vertex\s+([^\n]*)", data.decode("latin1"))])
    return numpy.unique(at.astype(float), axis=0)


def smallest(points):
    """Least volume of a box over all turns, from many starts; the truth is at most this."""
    volume = lambda turn: numpy.prod(numpy.ptp(points @ Rotation.from_rotvec(turn).as_matrix(), axis=0))
    starts = Rotation.random(24, random_state=7).as_rotvec()
    best = min((minimize(volume, s, method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-9, "maxiter": 600}) for s in [numpy.zeros(3), *starts]), key=lambda r: r.fun)
    return float(minimize(volume, best.x, method="Nelder-Mead", options={"xatol": 1e-12, "fatol": 1e-12, "maxiter": 4000}).fun)


def meshes():
    for file in sorted(models.glob("*.stl")):
        points = stl(file)
        hull = ConvexHull(points)
        told = subprocess.run(["admesh", file], capture_output=True, text=True, errors="replace").stdout
        # admesh mends what it can before it measures; of an open mesh its volume means nothing.
        whole = re.search(r"Degenerate facets\s*:\s*(\d+)", told) is not None and " 0" in re.search(r"Facets with 1 disconnected edge\s*:\s*(\d+)", told).group(0)
        yield {"file": file.name, "hull": hull.volume, "box": smallest(points[hull.vertices]), "volume": float(re.search(r"Volume\s*:\s*([-\d.]+)", told).group(1)) if whole else None}


if __name__ == "__main__":
    curves()
    blocks()
    through()
    (here / "measured.json").write_text(json.dumps({
        "source": "ezdxf 0.18.1, shapely 1.8.5 (GEOS), scipy 1.10.1 (Qhull), admesh 0.98.4; written by measure.py",
        "drawings": {"curves_mm.dxf": drawing("curves_mm.dxf", 1), "blocks_inch.dxf": drawing("blocks_inch.dxf", 25.4), "through_mm.dxf": drawing("through_mm.dxf", 1)},
        "meshes": list(meshes()),
    }, indent=1) + "\n")
