"""Reads the drawings of a concept with ezdxf, a DXF library of its own, moves pivots with it, saves them in other releases
and with other units, and has forkfront take them back into the concept.

    python3 cad_round_trip.py PROGRAM CONCEPT
"""
import csv
import io
import pathlib
import subprocess
import sys
import tempfile

import ezdxf
from ezdxf import units
from ezdxf.math import Matrix44

program, concept = sys.argv[1:]
work = pathlib.Path(tempfile.mkdtemp())


def forkfront(*args, code=0):
    done = subprocess.run([program, *map(str, args)], capture_output=True, text=True)
    if done.returncode != code:
        sys.exit(f"{args}: exit {done.returncode}, not {code}: {done.stderr}")
    return done.stdout if code == 0 else done.stderr


def table_of(path):
    rows = csv.DictReader(io.StringIO(forkfront("extract", path, "--as", "table")))
    return {row["name"]: {k: float(v) for k, v in row.items() if k.endswith("_mm")} for row in rows}


def check(what, passed):
    if not passed:
        sys.exit("failed: " + what)


def compare(wanted, moved, text, what):
    back = work / "back.yaml"
    back.write_text(text)
    worst = 0.0
    for name, row in table_of(back).items():
        dx, dz = moved.get(name, (0, 0))
        at = wanted[name]
        worst = max(worst, abs(row["x_top_out_mm"] - at["x_top_out_mm"] - dx), abs(row["z_top_out_mm"] - at["z_top_out_mm"] - dz))
    check(f"{what}: pivots come back within {worst:.2g} mm", worst <= 2e-4)  # two files of four decimals each
    return worst


pivots = table_of(concept)
movable = [name for name in pivots if name not in ("axle", "root", "shock_upper", "shock_lower")]
moved = {movable[0]: (1.25, -2.5), movable[-1]: (-0.75, 1.125)}
worst = 0.0
for form, version in (("drawing", "AC1015"), ("drawing-r12", "AC1009")):
    path = work / (form + ".dxf")
    path.write_text(forkfront("extract", concept, "--as", form))
    drawing = ezdxf.readfile(path)
    audit = drawing.audit()
    check(f"{form}: {len(audit.errors)} errors, {len(audit.fixes)} fixes", not audit.errors and not audit.fixes)
    check(f"{form}: release {drawing.dxfversion}", drawing.dxfversion == version)
    if form == "drawing":
        check("the unit is the millimetre", drawing.units == units.MM)
        dimensions = drawing.modelspace().query("DIMENSION")
        check("dimensions", len(dimensions) > 3)
        for d in dimensions:  # what is written on each is the distance that it measures
            texts = [e.dxf.text for e in d.get_geometry_block() if e.dxftype() == "TEXT"]
            length = d.dxf.defpoint2.distance(d.dxf.defpoint3)
            check(f"dimension {texts} of {length}", len(texts) == 1 and abs(float(texts[0]) - length) <= 0.0051 and abs(d.dxf.actual_measurement - length) < 2e-4)
    low, high = drawing.header["$EXTMIN"], drawing.header["$EXTMAX"]
    check("extents", 0 < high[0] - low[0] < 2500 and 0 < high[1] - low[1] < 2000)
    model = drawing.modelspace()
    for name, at in pivots.items():
        points = model.query(f'POINT[layer=="PIVOT_{name.upper()}"]')
        check(f"{form}: pivot {name}", len(points) == 1 and points[0].dxf.location.isclose((at["x_top_out_mm"], at["z_top_out_mm"], 0), abs_tol=1e-9))
    for name, (dx, dz) in moved.items():
        for e in model.query(f'*[layer=="PIVOT_{name.upper()}"]'):
            e.translate(dx, dz, 0)
    for target in ("R12", "R2000", "R2010", "R2018"):
        try:
            drawing.dxfversion = target
        except ezdxf.DXFVersionError:
            continue
        saved = work / f"{form}-{target}.dxf"
        drawing.saveas(saved)
        worst = max(worst, compare(pivots, moved, forkfront("concept", concept, "--from", saved), f"{form} saved as {target}"))

# In inches, scaled as a whole: the same fork.
drawing = ezdxf.readfile(work / "drawing.dxf")
for e in list(drawing.modelspace()):
    if e.dxftype() in ("POINT", "CIRCLE"):
        e.transform(Matrix44.scale(1 / 25.4))
    else:
        drawing.modelspace().delete_entity(e)
drawing.units = units.IN
drawing.saveas(work / "inches.dxf")
worst = max(worst, compare(pivots, {}, forkfront("concept", concept, "--from", work / "inches.dxf"), "inches"))

# A drawing that was moved as a whole is of another bike, for all that can be told.
drawing = ezdxf.readfile(work / "drawing.dxf")
for e in drawing.modelspace().query("POINT CIRCLE"):
    e.translate(100, 0, 0)
drawing.saveas(work / "elsewhere.dxf")
check("a drawing moved as a whole is refused", "the axle is 100 mm" in forkfront("concept", concept, "--from", work / "elsewhere.dxf", code=2))
print(f"ezdxf {ezdxf.__version__}: pivots moved in {len(moved)} places come back within {worst:.1g} mm")
