#!/usr/bin/env python3
"""What people type, read by us and by Pint, a general library of units, from its own definitions. Tolerance: 1e-9."""
import os
import subprocess
import sys
from pathlib import Path

import pint

ROOT = Path(__file__).resolve().parent.parent
PROGRAM = Path(os.environ.get("COATWRIGHT_TARGET", ROOT / "target/debug")) / "quantity-figures"

# kind, SI unit for Pint, and for each unit our spelling beside Pint's
KINDS = {
    "length": ("m", {"in": "inch", "ft": "foot", "yd": "yard", "mm": "mm", "cm": "cm", "m": "m", '"': "inch", "'": "foot"}),
    "area": ("m**2", {"ft2": "foot**2", "sq in": "inch**2", "cm2": "cm**2", "m²": "m**2"}),
    "volume": ("m**3", {
        "fl oz": "US_fluid_ounce", "pt": "US_pint", "qt": "US_liquid_quart", "gal": "US_liquid_gallon", "cup": "US_liquid_cup",
        "ft3": "foot**3", "ml": "ml", "l": "liter", "m3": "m**3"}),
    "mass": ("kg", {"oz": "ounce", "lb": "pound", "g": "g", "kg": "kg"}),
    "film": ("m", {"mil": "milliinch", "um": "um"}),
    "temperature": ("K", {"°F": "degF", "C": "degC"}),
    "flow": ("m**3/s", {"cfm": "foot**3/minute", "m3/h": "m**3/hour", "l/s": "liter/s"}),
    "spread": ("m**2/liter", {"ft2/gal": "foot**2/US_liquid_gallon", "m2/l": "m**2/liter", "ft2/qt": "foot**2/US_liquid_quart"}),
}


def cases(registry):
    for kind, (si, units) in KINDS.items():
        for ours, theirs in units.items():
            figures = (60, 125, 300.5) if kind == "spread" and si != ours and "ft2" in ours else (1, 2.75, 12.5, 68)
            for figure in figures:
                yield f"{kind} {figure} {ours}", registry.Quantity(figure, theirs).to(si).magnitude
    half = registry.Quantity
    yield "length 18 3/4\"", half(18.75, "inch").to("m").magnitude
    yield "length 5' 6 1/2\"", (half(5, "foot") + half(6.5, "inch")).to("m").magnitude
    yield "length 1 yd 2 ft 3 in", (half(1, "yard") + half(2, "foot") + half(3, "inch")).to("m").magnitude
    yield "volume 1 gal 1 qt", (half(1, "US_liquid_gallon") + half(1, "US_liquid_quart")).to("m**3").magnitude
    yield "mass 2 lb 3 oz", (half(2, "pound") + half(3, "ounce")).to("kg").magnitude


def main():
    wanted = list(cases(pint.UnitRegistry()))
    lines = "".join(f"{line}\n" for line, _ in wanted)
    # Films are metres too, but 68 thou is a film and 68 m is none: what is beyond the limit is left out here.
    out = subprocess.run([PROGRAM], input=lines, capture_output=True, text=True, encoding="utf-8")
    figures = out.stdout.splitlines()
    if out.returncode != 0:
        print(f"FAILED after {len(figures) - 1} figures: {figures[-1]}")
        return 1
    bad = [
        f"FAILED {line}: {ours} against {theirs}"
        for (line, theirs), ours in zip(wanted, figures, strict=True)
        if abs(float(ours) - theirs) > 1e-9 * abs(theirs)
    ]
    print("\n".join([*bad, f"{len(wanted) - len(bad)} passed, {len(bad)} failed"]))
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
