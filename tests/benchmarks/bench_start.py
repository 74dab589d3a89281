"""How long the commands of the hand take to start and end, beside ``python -c "import click"`` in the same run.

    python tests/benchmarks/bench_start.py [--times 9]

Compiled modules are kept in a folder of this run's own, as an installed program has them; a database is made first.
"""

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

BUILD = str(Path(__file__).parents[2] / "data" / "demo" / "crawler.toml")
ADVERT = "Front axle out of an 06 one ton, coil, ball joints, 4.10, 8 lug, hubs lock by hand. 900 obo 555-0142"
OURS = (
    ("--help",), ("--version",), ("calc", "ratio", "--help"), ("read", "-"), ("check", "-", "--build", BUILD),
    ("find", "--position", "front"), ("show", "front-9.75-balljoint"), ("candidate", "list"),
)  # fmt: skip
TABS = ("ch", "part list --", "check --", "find --", "show front-9", "candidate show ", "identify --saw knuckle=")
"""What Tab is pressed behind."""


def median_s(command: list[str], env: dict[str, str], times: int) -> float:
    """The median of so many runs, seconds; the first run, which compiles, does not count."""
    seconds = []
    for _ in range(times + 1):
        begun = time.perf_counter()
        subprocess.run(command, input=ADVERT.encode(), env=env, capture_output=True, check=True)
        seconds.append(time.perf_counter() - begun)
    return statistics.median(seconds[1:])


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--times", type=int, default=9)
    times = parser.parse_args().times
    with tempfile.TemporaryDirectory() as folder:
        env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
        env |= {"PYTHONPYCACHEPREFIX": folder, "DONORBASE_DB": f"{folder}/own.sqlite3"}
        click, sqlmodel = (median_s([sys.executable, "-c", f"import {m}"], env, times) for m in ("click", "sqlmodel"))
        print(f"import click {click * 1000:.0f} ms, import sqlmodel {sqlmodel * 1000:.0f} ms")
        for args in OURS:
            seconds = median_s([sys.executable, "-m", "donorbase", *args], env, times)
            shown = " ".join(args).replace(BUILD, "crawler.toml")
            beside = f"{seconds / click:5.2f} x click  {seconds / sqlmodel:5.2f} x sqlmodel"
            print(f"{shown:34} {seconds * 1000:5.0f} ms  {beside}")
        for line in TABS:
            tab = env | {"COMP_LINE": f"donorbase {line}", "_DONORBASE_COMPLETE": "bash_complete"}
            seconds = median_s([sys.executable, "-m", "donorbase"], tab, times)
            print(f"{line + ' TAB':34} {seconds * 1000:5.0f} ms  {seconds / click:5.2f} x click")


if __name__ == "__main__":
    main()
