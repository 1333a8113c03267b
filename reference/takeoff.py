#!/usr/bin/env python3
"""Surfaces of our forms, and of meshes that we read, measured by trimesh.

Every surface of every form is exported as STL and measured by trimesh: flat ones agree to single precision, round ones (whose
area we take by Pappus' theorem, and whose mesh has 180 facets) to 0.1 %. Where parts meet, our sum is held against the
surface of their union as solids. The other way round, shapes that trimesh makes
and writes in each format are read by us: area to 1e-5, and the same word on whether the mesh closes.
"""
import math
import os
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
import trimesh

ROOT = Path(__file__).resolve().parent.parent
PROGRAM = Path(os.environ.get("COATWRIGHT_TARGET", ROOT / "target/debug")) / "takeoff-meshes"
FLAT, ROUND, READ = 2e-6, 1e-3, 1e-5
passed = failed = 0


def check(name, good, what=""):
    global passed, failed
    if good:
        passed += 1
    else:
        failed += 1
        print(f"FAILED {name}: {what}")


def run(*words):
    return subprocess.run([PROGRAM, *map(str, words)], capture_output=True, text=True, check=False)


def forms_out(folder):
    worst = {"flat": 0.0, "round": 0.0}
    out = run("forms", folder)
    check("forms are written", out.returncode == 0, out.stderr)
    for line in out.stdout.splitlines():
        form, surface, file, ours, shape = line.split("\t")
        ours = float(ours)
        theirs = trimesh.load(file, force="mesh", process=False).area * 1e-6 if os.path.getsize(file) > 84 else 0.0
        off = abs(theirs - ours) / max(ours, 1e-12) if ours or theirs else 0.0
        worst[shape] = max(worst[shape], off)
        check(f"{form}, {surface}", off <= (FLAT if shape == "flat" else ROUND), f"{ours} m² against {theirs}")
    print(f"largest difference: flat {worst['flat']:.1e}, round {worst['round']:.1e}")


def solids_of_revolution():
    """Pappus: the way of the profile's centroid round the axis, times the profile's length; finely divided."""
    area, *points = run("turned").stdout.splitlines()
    profile = np.array([[float(v) for v in line.split()] for line in points])
    steps = np.linspace(0, 1, 2001)
    length = moment = 0.0
    for (z0, r0), (z1, r1) in zip(profile[:-1], profile[1:]):
        piece = math.hypot(z1 - z0, r1 - r0)
        length += piece
        moment += piece * np.trapezoid(r0 + (r1 - r0) * steps, steps)
    by_pappus = 2 * math.pi * (moment / length) * length
    check("a turning by Pappus", abs(float(area) / by_pappus - 1) < 1e-9, f"{area} against {by_pappus}")


def joints():
    """What joints take away: our sum against the surface of the union of all parts as solids, less what stands on the floor.

    Flat forms agree to 1e-5. In a chair with tapered legs the rails run into slanting faces, which we do not follow: 1 %. Nor do
    we count what shows of legs and aprons through the gaps of a slatted seat: 0.1 %.
    """
    forms = []
    for line in run("solids").stdout.splitlines():
        words = line.split()
        if len(words) == 2:
            forms.append((words[0], float(words[1]), []))
        else:
            corners = np.array([float(v) for v in words]).reshape(8, 3)
            forms[-1][2].append(trimesh.convex.convex_hull(corners))
    check("forms of flat parts", len(forms) >= 7, f"{len(forms)}")
    for name, ours, parts in forms:
        union = trimesh.boolean.union(parts, engine="manifold") if len(parts) > 1 else parts[0]
        low = union.bounds[0][2]
        # A panel and a door count their lower edge; what stands on legs does not count its feet.
        feet = name not in ("panel", "door")
        on_floor = (union.face_normals[:, 2] < -0.99) & (abs(union.triangles_center[:, 2] - low) < 1e-6)
        theirs = union.area - (union.area_faces[on_floor].sum() if feet else 0.0)
        off = abs(ours / theirs - 1)
        print(f"joints of the {name}: {off:.1e}")
        allowed = {"chair": 1e-2, "slatted-bench": 1e-3}.get(name, 1e-5)
        check(f"joints of the {name}", off < allowed, f"{ours} m² against {theirs}")


def meshes_in(folder):
    holed = trimesh.creation.icosphere(subdivisions=3, radius=0.3)
    holed.update_faces(np.arange(len(holed.faces)) >= 20)
    shapes = {
        "box": trimesh.creation.box((0.4, 0.5, 0.7)),
        "sphere": trimesh.creation.icosphere(subdivisions=4, radius=0.25),
        "tube": trimesh.creation.annulus(0.1, 0.2, 0.5),
        "capsule": trimesh.creation.capsule(height=0.6, radius=0.15),
        "torus": trimesh.creation.torus(0.4, 0.1),
        "holed": holed,
    }
    for name, shape in shapes.items():
        for ending, options in {
            "stl": {},
            "ascii.stl": {"file_type": "stl_ascii"},
            "obj": {},
            "ply": {},
            "ascii.ply": {"file_type": "ply", "encoding": "ascii"},
            "glb": {},
        }.items():
            file = Path(folder) / f"in-{name}.{ending}"
            shape.export(file, **options)
            out = run("read", file, "metres", "z")
            label = f"{name} as {ending}"
            check(f"{label} is read", out.returncode == 0, out.stderr)
            if out.returncode:
                continue
            area, holes, shared, triangles = out.stdout.split()
            check(f"{label}: area", abs(float(area) / shape.area - 1) < READ, f"{area} against {shape.area}")
            check(f"{label}: triangles", int(triangles) == len(shape.faces), f"{triangles} against {len(shape.faces)}")
            whole = holes == "0" and shared == "0"
            check(f"{label}: whole", whole == shape.is_watertight, f"{holes} holes, {shared} shared edges")
    inches = Path(folder) / "in-inches.stl"
    trimesh.creation.box((20, 30, 40)).export(inches)
    out = run("read", inches, "inches", "z")
    area = 2 * (20 * 30 + 30 * 40 + 20 * 40) * 0.0254**2
    check("a box in inches", abs(float(out.stdout.split()[0]) / area - 1) < READ, out.stdout)


def main():
    with tempfile.TemporaryDirectory() as folder:
        forms_out(folder)
        solids_of_revolution()
        joints()
        meshes_in(folder)
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
