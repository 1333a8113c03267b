#!/usr/bin/env python3
"""Our scheduling engine beside CP-SAT (PyPI ortools) on the same instances, one after the other in the same run.

  bench/cpsat_ratio.py FOLDER BEST.csv [--seconds S] [--cpsat-seconds S] [--threads T] [--every N]

FOLDER holds PSPLIB .sm, ProGen/max .sch or shop .json instances (never copied). Each instance is solved by CP-SAT with a plain
model of our own and then by rcpsp-bench; printed are both objectives and their ratio, and at the end the mean ratio and on how
many instances either was better. Needs `pip install ortools` and a release build of rcpsp-bench.
"""
import argparse
import json
import re
import subprocess
import sys
import tempfile
from pathlib import Path

from ortools.sat.python import cp_model

ROOT = Path(__file__).resolve().parent.parent


def numbers(line):
    return [int(word) for word in re.findall(r"-?\d+", line)]


def read_sm(path):
    lines = path.read_text(errors="replace").splitlines()

    def section(head, skip):
        at = next(k for k, line in enumerate(lines) if line.startswith(head)) + skip
        rows = []
        while not lines[at].startswith("*"):
            rows.append(numbers(lines[at]))
            at += 1
        return rows

    jobs = section("REQUESTS", 3)
    length = [row[2] for row in jobs]
    arcs = [(row[0] - 1, to - 1, length[row[0] - 1]) for row in section("PRECEDENCE", 2) for to in row[3:]]
    return length, [row[3:] for row in jobs], section("RESOURCEAVAIL", 2)[0], arcs


def read_sch(path):
    rows = [numbers(line) for line in path.read_text(errors="replace").splitlines() if line.strip()]
    n = rows[0][0] + 2
    arcs = []
    for row in rows[1 : 1 + n]:
        count = row[2]
        arcs += [(row[0], to, lag) for to, lag in zip(row[3 : 3 + count], row[3 + count :])]
    jobs = rows[1 + n : 1 + 2 * n]
    return [row[2] for row in jobs], [row[3:] for row in jobs], rows[1 + 2 * n], arcs


def project(path, seconds, threads):
    """Completion by CP-SAT, or None."""
    length, needs, capacity, arcs = read_sm(path) if path.suffix.lower() == ".sm" else read_sch(path)
    n = len(length)
    horizon = sum(max([length[k]] + [lag for a, _, lag in arcs if a == k]) for k in range(n))
    model = cp_model.CpModel()
    start = [model.new_int_var(0, horizon, f"s{k}") for k in range(n)]
    works = [model.new_fixed_size_interval_var(start[k], length[k], f"i{k}") for k in range(n)]
    for a, b, lag in arcs:
        model.add(start[b] >= start[a] + lag)
    for resource, amount in enumerate(capacity):
        takes = [k for k in range(n) if needs[k][resource] > 0]
        model.add_cumulative([works[k] for k in takes], [needs[k][resource] for k in takes], amount)
    end = model.new_int_var(0, horizon, "end")
    for k in range(n):
        model.add(end >= start[k] + length[k])
    model.minimize(end)
    return run(model, seconds, threads)


def shop(path, seconds, threads):
    """The shop objective by CP-SAT, or None."""
    given = json.loads(path.read_text())
    grid = given["grid"]

    def up(minutes):
        return -(-minutes // grid)

    model, horizon = cp_model.CpModel(), given["horizon"] // grid
    steps, starts, works, zone_of = [], {}, {}, {}

    def add(step, release):
        length = step["dur"] // grid
        open_at = [(max(up(a), up(release)), b // grid - length) for a, b, there in given["windows"] if there >= step["need"]]
        if step.get("weather"):
            open_at = [(max(a, up(c)), min(b, d // grid - length)) for a, b in open_at for c, d in given["weather_ok"]]
        domain = cp_model.Domain.from_intervals([[a, b] for a, b in open_at if a <= b])
        starts[step["id"]] = model.new_int_var_from_domain(domain, step["id"])
        works[step["id"]] = model.new_fixed_size_interval_var(starts[step["id"]], length, "i" + step["id"])
        steps.append(step)

    def end(step):
        return starts[step["id"]] + step["dur"] // grid

    last = model.new_int_var(0, horizon, "last")
    terms = [given["makespan_weight"] * last]
    for piece in given["pieces"]:
        add(piece["final"], piece["release"])
        for zone in piece["zones"]:
            for place, step in enumerate(zone["steps"]):
                add(step, piece["release"])
                zone_of[step["id"]] = (zone["id"], place)
            for step, after in zip(zone["steps"], zone["steps"][1:]):
                gap, wait = starts[after["id"]] - end(step), step.get("lag", {})
                model.add(gap >= up(wait.get("min", 0)))
                if "max" in wait:
                    model.add(gap <= wait["max"] // grid)
                if "recoat" in wait:
                    soon = model.new_bool_var("")
                    model.add(gap <= wait["recoat"][0] // grid).only_enforce_if(soon)
                    model.add(gap >= up(wait["recoat"][1])).only_enforce_if(~soon)
            closing = zone["steps"][-1]
            wait = max(piece["final"]["after_zones"], closing.get("wet", 0))
            model.add(starts[piece["final"]["id"]] >= end(closing) + up(wait))
        late = model.new_int_var(0, horizon, "")
        model.add(late >= end(piece["final"]) - piece["due"] // grid)
        model.add(last >= end(piece["final"]))
        terms.append(piece["weight"] * late)
    fewer = [(a, b, given["workers"] - there) for a, b, there in given["windows"] if there < given["workers"]]
    away = [model.new_fixed_size_interval_var(up(a), b // grid - up(a), "") for a, b, _ in fewer]
    needs = [step["need"] for step in steps] + [missing for _, _, missing in fewer]
    model.add_cumulative([works[step["id"]] for step in steps] + away, needs, given["workers"])
    for coat in (step for step in steps if step["kind"] == "coat"):
        for dust in (step for step in steps if step["kind"] == "dust"):
            dry = end(coat) + up(coat["wet"])
            (zone, place), (other, turn) = zone_of.get(coat["id"], (coat["id"], 0)), zone_of.get(dust["id"], (dust["id"], 0))
            if zone == other:
                if turn > place:
                    model.add(starts[dust["id"]] >= dry)
                continue
            coat_first = model.new_bool_var("")
            model.add(starts[dust["id"]] >= dry).only_enforce_if(coat_first)
            model.add(starts[coat["id"]] >= end(dust)).only_enforce_if(~coat_first)
    model.minimize(sum(terms))
    found = run(model, seconds, threads)
    return None if found is None else found * grid


def run(model, seconds, threads):
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = threads
    status = solver.solve(model)
    return int(round(solver.objective_value)) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None


def ours(path, best, seconds, threads):
    """Our objective, by the bench program on a folder with this one instance."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / path.parent.name
        folder.mkdir()
        (folder / path.name).symlink_to(path.resolve())
        command = [ROOT / "target/release/rcpsp-bench", folder, best, "--seconds", str(seconds), "--threads", str(threads)]
        lines = subprocess.run(command, capture_output=True, text=True, check=True).stdout.splitlines()
    if not lines[-1].endswith("wrong=0"):
        print(f"{path.name}: {lines[-1]}")
    return int(lines[1].split(",")[1]) if lines[1].split(",")[1].isdigit() else None


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("best", type=Path)
    parser.add_argument("--seconds", type=float, default=5)
    parser.add_argument("--cpsat-seconds", type=float)
    parser.add_argument("--threads", type=int, default=2)
    parser.add_argument("--every", type=int, default=1)
    asked = parser.parse_args()
    paths = sorted(path for path in asked.folder.iterdir() if path.suffix.lower() in (".sm", ".sch", ".json"))
    ratios, better, worse = [], 0, 0
    print("instance,cpsat,ours,ours/cpsat")
    for path in paths[:: asked.every]:
        solve = shop if path.suffix == ".json" else project
        theirs = solve(path, asked.cpsat_seconds or asked.seconds, asked.threads)
        mine = ours(path, asked.best, asked.seconds, asked.threads)
        ratio = mine / theirs if mine and theirs else None
        if ratio:
            ratios.append(ratio)
            better += ratio < 1
            worse += ratio > 1
        print(f"{path.name},{theirs},{mine},{ratio and round(ratio, 4)}", flush=True)
    mean = sum(ratios) / max(1, len(ratios))
    print(f"mean_ratio={mean:.4f} ours_better={better} cpsat_better={worse} of={len(ratios)}")


sys.exit(main())
