#!/usr/bin/env python3
"""Colour against colour-science (BSD-3-Clause), on 10,000 random inputs for each figure.

Tolerances: CIEDE2000 1e-4 (the two programs may take different branches where hues lie exactly opposite; none of the random
pairs does), Lab and XYZ 1e-9, screen colours 0.02 (the two round the standard's matrix differently), tristimulus values of a
spectrum 1e-6 (ASTM E308, 400 to 700 nm, every 10 nm), smoothest spectra 1e-6 in Lab when colour-science looks at them.

Last it says how fast ours is beside numpy, in processor time of the same run: wanted is five times. That is told and not counted,
since it depends on the machine (docs/BENCHMARKS.md).
"""
import os
import resource
import subprocess
import sys
import time
import warnings
from pathlib import Path

import numpy

warnings.filterwarnings("ignore")
import colour  # noqa: E402

ROOT = Path(__file__).resolve().parent.parent
N = 10_000
passed = failed = 0


def program():
    folder = os.environ.get("COATWRIGHT_TARGET")
    if folder is None:
        subprocess.run(["cargo", "build", "-q", "-p", "colour", "--bin", "colour-probe"], cwd=ROOT, check=True)
        folder = ROOT / "target/debug"
    return Path(folder) / "colour-probe"


PROGRAM = program()


def ours(word, rows):
    lines = "".join(f"{word} {' '.join(repr(float(v)) for v in row)}\n" for row in rows)
    done = subprocess.run([PROGRAM], input=lines, capture_output=True, text=True, check=False)
    if done.returncode:
        sys.exit(f"colour-probe failed on {word}: {done.stderr}")
    return numpy.array([[float(v) for v in line.split()] for line in done.stdout.splitlines()])


def check(name, have, want, tolerance):
    """Counts one check for each input."""
    global passed, failed
    off = numpy.abs(numpy.asarray(have) - numpy.asarray(want)).reshape(len(have), -1).max(axis=1)
    wrong = ~(off <= tolerance)
    passed += int((~wrong).sum())
    failed += int(wrong.sum())
    print(f"{name}: {len(off)} inputs, largest distance {off.max():.2e}, tolerance {tolerance:g}")
    for i in numpy.flatnonzero(wrong)[:3]:
        print(f"FAILED {name}, input {i}: {have[i]} against {want[i]}")


def main():
    global passed, failed
    random = numpy.random.default_rng(20270308)
    lab = lambda n: numpy.column_stack([random.uniform(0, 100, n), random.uniform(-110, 110, n), random.uniform(-110, 110, n)])

    one = lab(N)
    other = numpy.where(random.random((N, 1)) < 0.5, one + random.normal(0, 3, (N, 3)), lab(N))
    want = colour.difference.delta_E_CIE2000(one, other)
    check("CIEDE2000", ours("difference", numpy.hstack([one, other])), want[:, None], 1e-4)

    cmfs = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
    xy = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]
    for name in ("D65", "A"):
        white = colour.xy_to_XYZ(xy[name])
        whites = numpy.tile(white, (N, 1))
        xyz = random.uniform(0, 1, (N, 3)) ** 2 * white
        check(f"XYZ to Lab, {name}", ours("xyz-to-lab", numpy.hstack([xyz, whites])), colour.XYZ_to_Lab(xyz, xy[name]), 1e-9)
        check(f"Lab to XYZ, {name}", ours("lab-to-xyz", numpy.hstack([one, whites])), colour.Lab_to_XYZ(one, xy[name]), 1e-9)

    screen = random.integers(0, 256, (N, 3))
    want = colour.XYZ_to_Lab(colour.sRGB_to_XYZ(screen / 255), xy["D65"])
    check("screen colour to Lab", ours("screen-to-lab", screen), want, 0.02)

    # The library weighs one spectrum at a time; the weights of each band, once found, are linear.
    bands = numpy.arange(400, 701, 10)
    spectra = random.uniform(0, 1, (N, 31))
    for word, name in (("day", "D65"), ("lamp", "A")):
        illuminant = colour.SDS_ILLUMINANTS[name]
        weigh = lambda r: colour.sd_to_XYZ(colour.SpectralDistribution(r, bands), cmfs, illuminant, method="ASTM E308") / 100
        weights = numpy.array([weigh(row) for row in numpy.eye(31)])
        check(f"spectrum to XYZ, {name}", ours(word, spectra), spectra @ weights, 1e-6)

    # Colours that surely have a spectrum: those of random smooth ones.
    knots = random.uniform(0.02, 0.95, (N, 5))
    smooth = numpy.array([numpy.interp(bands, numpy.linspace(400, 700, 5), row) for row in knots])
    illuminant = colour.SDS_ILLUMINANTS["D65"]
    weigh = lambda r: colour.sd_to_XYZ(colour.SpectralDistribution(r, bands), cmfs, illuminant, method="ASTM E308") / 100
    weights = numpy.array([weigh(row) for row in numpy.eye(31)])
    white = colour.XYZ_to_xy(weights.sum(axis=0))
    want = colour.XYZ_to_Lab(smooth @ weights, white)
    made = ours("smoothest", want)
    check("smoothest spectrum seen by the library", colour.XYZ_to_Lab(made @ weights, white), want, 1e-5)
    check("smoothest spectrum between nothing and all", numpy.clip(made, 0, 1), made, 0)

    n = 1_000_000
    a, b = lab(n), lab(n)
    theirs = min(timed(lambda: colour.difference.delta_E_CIE2000(a, b)) for _ in range(5))
    mine = min(program_seconds(5 * n) / 5 for _ in range(5))
    ratio = theirs / mine
    print(f"CIEDE2000, {n} pairs, processor time: ours {mine:.3f} s, numpy {theirs:.3f} s: {ratio:.1f} times as fast (wanted: 5)")

    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


def program_seconds(n):
    """Processor seconds of our program for n differences; its start counts too."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
    ours("time-difference", [[n]])
    return resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before


def timed(work):
    start = time.process_time()
    work()
    return time.process_time() - start


if __name__ == "__main__":
    sys.exit(main())
