#!/usr/bin/env python3
"""Shopping lists against SciPy's integer programming, and the risk of quotes against SciPy's integration.

The integer program (HiGHS) must come to the same cost; the chance of a loss must agree to 1e-6, the percentiles and the mean
to a cent and a half.
"""
import math
import os
import random
import subprocess
import sys
from pathlib import Path

import numpy as np
from scipy import integrate, optimize, stats

ROOT = Path(__file__).resolve().parent.parent
PROGRAM = Path(os.environ.get("COATWRIGHT_TARGET", ROOT / "target/debug")) / "money-figures"
passed = failed = 0


def check(name, ours, theirs, tolerance):
    global passed, failed
    if abs(ours - theirs) <= tolerance:
        passed += 1
    else:
        failed += 1
        print(f"FAILED {name}: {ours} against {theirs}, tolerance {tolerance}")


def least_cost(need, offers):
    sizes, prices = np.array(offers, dtype=float).T
    answer = optimize.milp(
        prices,
        constraints=optimize.LinearConstraint(sizes[None, :], lb=need),
        integrality=np.ones(len(offers)),
        options={"mip_rel_gap": 0.0},
    )
    return round(answer.fun)


def lists(draw):
    for case in range(150):
        real = [118, 237, 473, 946, 3785, 18927, 250, 500, 750, 1000, 2500, 5000]
        sizes = draw.sample(real, draw.randint(1, 12)) if case % 2 else [draw.randint(80, 4000) for _ in range(8)]
        offers = [(size, round(3 * size**0.93 * draw.uniform(0.8, 1.3)) + 1) for size in sizes]
        yield draw.randint(1, 30000), offers


def quotes(draw):
    for _ in range(24):
        materials, minutes = draw.randint(500, 40000), draw.randint(30, 3000)
        wage, purchase = draw.randint(1500, 6000), draw.choice([0, draw.randint(500, 60000)])
        middle = materials + wage * minutes / 60 + purchase
        price = round(middle * draw.uniform(0.8, 1.8))
        yield materials, draw.uniform(0.03, 0.7), minutes, draw.uniform(0.03, 0.9), wage, purchase, price


def cost_chance(amount, materials, m_sd, labour, l_sd):
    """P(materials + labour <= amount), integrated over the materials."""
    if amount <= 0:
        return 0.0
    m, l = stats.lognorm(m_sd, scale=materials), stats.lognorm(l_sd, scale=labour)
    marks = [m.ppf(p) for p in (1e-12, 1e-4, 0.05, 0.5, 0.95, 1 - 1e-4, 1 - 1e-12)]
    marks = [min(x, amount) for x in marks]
    return sum(
        integrate.quad(lambda x: m.pdf(x) * l.cdf(amount - x), a, b, epsabs=1e-11, limit=200)[0]
        for a, b in zip(marks, marks[1:])
        if b > a
    )


def main():
    draw = random.Random(20270308)
    shopping, priced = list(lists(draw)), list(quotes(draw))
    lines = [f"cans {need} " + " ".join(f"{size}:{price}" for size, price in offers) for need, offers in shopping]
    lines += ["quote " + " ".join(map(str, quote)) for quote in priced]
    out = subprocess.run([PROGRAM], input="\n".join(lines) + "\n", capture_output=True, text=True, check=True)
    answers = out.stdout.splitlines()
    for (need, offers), answer in zip(shopping, answers):
        check(f"{need} ml of {offers}", int(answer.split()[0]), least_cost(need, offers), 0)
    for quote, answer in zip(priced, answers[len(shopping):], strict=True):
        materials, m_sd, minutes, l_sd, wage, purchase, price = quote
        labour = math.floor(wage * minutes / 60 + 0.5)
        loss, p10, p90, mean = map(float, answer.split())
        chance = lambda amount: cost_chance(amount - purchase, materials, m_sd, labour, l_sd)
        check(f"{quote}: chance of a loss", loss, 1 - chance(price), 1e-6)
        for name, ours, share in (("p10", p10, 0.1), ("p90", p90, 0.9)):
            theirs = optimize.brentq(lambda amount: chance(amount) - share, purchase + 1, 20 * (purchase + materials + labour), xtol=0.1)
            check(f"{quote}: {name}", ours, theirs, 1.5)
        theirs = purchase + materials * math.exp(m_sd**2 / 2) + labour * math.exp(l_sd**2 / 2)
        check(f"{quote}: mean", mean, theirs, 1.5)
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
