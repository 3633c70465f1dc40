"""Reads DXF files with ezdxf and prints what it understood, as JSON by path.

Lengths are as in the file, angles degrees, areas of closed shapes in squares of them.
"""
import json
import math
import sys

import ezdxf
from ezdxf.math import bulge_to_arc
from ezdxf.tools.text import plain_text


def enclosed(polyline):
    """The area within a closed polyline, its arcs counted exactly; signed."""
    points = list(polyline.get_points("xyb"))
    area = 0.0
    for (ax, ay, bulge), (bx, by, _) in zip(points, points[1:] + points[:1]):
        area += (ax * by - bx * ay) / 2
        if bulge:
            _, _, _, radius = bulge_to_arc((ax, ay), (bx, by), bulge)
            sweep = 4 * math.atan(bulge)
            area += radius * radius / 2 * (sweep - math.sin(sweep))
    return area


def entity(e):
    kind, d = e.dxftype(), {"kind": e.dxftype(), "layer": e.dxf.layer, "colour": e.dxf.color}
    if kind == "LINE":
        d["points"] = [e.dxf.start, e.dxf.end]
    elif kind in ("CIRCLE", "ARC"):
        d["points"], d["radius"] = [e.dxf.center], e.dxf.radius
        if kind == "ARC":
            d["points"] += [e.start_point, e.end_point]
            d["angles"] = [e.dxf.start_angle, e.dxf.end_angle]
    elif kind == "ELLIPSE":
        d["points"] = [e.dxf.center, e.start_point, e.end_point] + list(e.vertices([math.pi / 3 + e.dxf.start_param]))
        d["ratio"] = e.dxf.ratio
    elif kind == "SPLINE":
        d["points"] = list(e.construction_tool().points([0, 0.5, 1]))
        d["control"] = len(e.control_points)
    elif kind == "LWPOLYLINE":
        d["points"] = list(e.vertices())
        d["closed"], d["area"] = e.closed, enclosed(e)
    elif kind == "TEXT":
        d["words"] = plain_text(ezdxf.decode_dxf_unicode(e.dxf.text))
        d["height"], d["turn"] = e.dxf.height, e.dxf.rotation
        d["points"] = [e.dxf.insert] + ([e.dxf.align_point] if e.dxf.hasattr("align_point") else [])
        d["held"], d["style"] = e.get_align(), e.dxf.style
    elif kind == "SOLID":
        d["points"] = [e.dxf.vtx0, e.dxf.vtx1, e.dxf.vtx2]
    elif kind == "HATCH":
        d["loops"] = [type(p).__name__ for p in e.paths]
    d["points"] = [[p[0], p[1]] for p in d.get("points", [])]
    return d


def read(path):
    doc = ezdxf.readfile(path)
    audit = doc.audit()
    head = doc.header
    return {
        "version": doc.dxfversion, "units": head["$INSUNITS"], "metric": head["$MEASUREMENT"],
        "low": list(head["$EXTMIN"])[:2], "high": list(head["$EXTMAX"])[:2],
        "faults": [str(e.message) for e in audit.errors + audit.fixes],
        "layers": {l.dxf.name: [l.dxf.linetype, l.dxf.lineweight] for l in doc.layers},
        "dashes": sorted(t.dxf.name for t in doc.linetypes),
        "entities": [entity(e) for e in doc.modelspace()],
    }


print(json.dumps({path: read(path) for path in sys.argv[1:]}))
