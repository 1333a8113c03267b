#!/usr/bin/env python3
"""Moist air against PsychroLib, and wood moisture against the handbook's equation in its other units.

PsychroLib computes the formulas of the ASHRAE Handbook, Fundamentals (2017), chapter 1. Tolerances: 0.05 K on dew point and
wet bulb, 0.1 % on pressure and humidity ratio. The moisture of wood is compared with the Fahrenheit coefficients of the same
equation (from memory, FPL-RN-0268): the two sets were fitted apart and agree to 0.1 points.
"""
import os
import subprocess
import sys
from pathlib import Path

import psychrolib

ROOT = Path(__file__).resolve().parent.parent
PROGRAM = Path(os.environ.get("COATWRIGHT_TARGET", ROOT / "target/debug")) / "climate-figures"
SEA_LEVEL_PA = 101325.0
passed = failed = 0


def check(name, ours, theirs, tolerance):
    global passed, failed
    if abs(ours - theirs) <= tolerance:
        passed += 1
    else:
        failed += 1
        print(f"FAILED {name}: {ours} against {theirs}, tolerance {tolerance}")


def emc_by_fahrenheit(temp_f, rh):
    weight = 330.0 + 0.452 * temp_f + 0.00415 * temp_f**2
    k = 0.791 + 0.000463 * temp_f - 0.000000844 * temp_f**2
    k1 = 6.34 + 0.000775 * temp_f - 0.0000935 * temp_f**2
    k2 = 1.09 + 0.0284 * temp_f - 0.0000904 * temp_f**2
    kh = k * rh
    bound = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / weight * (kh / (1 - kh) + bound)


def main():
    psychrolib.SetUnitSystem(psychrolib.SI)
    airs = [(t / 2, rh / 100) for t in range(-30, 91, 5) for rh in (5, 20, 35, 50, 65, 80, 95, 100)]
    lines = "".join(f"{t} {rh}\n" for t, rh in airs)
    out = subprocess.run([PROGRAM], input=lines, capture_output=True, text=True, check=True).stdout.splitlines()
    for (t, rh), line in zip(airs, out, strict=True):
        saturation, dew, wet, ratio, emc = map(float, line.split())
        name = f"{t} °C, {rh:.0%}"
        theirs = psychrolib.GetSatVapPres(t)
        check(f"{name}: saturation pressure", saturation, theirs, 0.001 * theirs)
        check(f"{name}: dew point", dew, psychrolib.GetTDewPointFromRelHum(t, rh), 0.05)
        check(f"{name}: wet bulb", wet, psychrolib.GetTWetBulbFromRelHum(t, rh, SEA_LEVEL_PA), 0.05)
        theirs = psychrolib.GetHumRatioFromRelHum(t, rh, SEA_LEVEL_PA)
        check(f"{name}: humidity ratio", ratio, theirs, 0.001 * theirs)
        if -1 <= t <= 54 and 0.05 <= rh <= 0.95:
            check(f"{name}: wood moisture", emc, emc_by_fahrenheit(t * 1.8 + 32, rh), 0.1)
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
