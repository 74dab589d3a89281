"""Small faults put into the code one at a time: the tests of its package find them, or do not, and then say too little.

Needs mutmut (`pip install mutmut`). A sample drawn by a seed, which keeps a report:
`nice -n 15 python -m tests.trust.mutants --of-each 40`. What survived is told with the place and the change.
"""

import argparse
import json
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

TOP = Path(__file__).parents[2]
PACKAGES = ("engineering", "identity", "verdict", "reading")
FILES = 8
"""Files of a package that are drawn, the longer the likelier; mutants of all would take an hour to make."""
_FOUND = ("killed", "timeout", "segfault", "caught by type check")
_NEVER_BEGAN = 255
_SELECTED = re.compile(r"^(only_mutate|pytest_add_cli_args_test_selection) = .*$", re.MULTILINE)


def drawn_files(package: str, chance: random.Random) -> list[Path]:
    """Files of a package, each line of which is as likely to be among them."""
    left = {
        path: len(path.read_text("utf-8").splitlines()) for path in sorted((TOP / "donorbase" / package).glob("*.py"))
    }
    left = {path: lines for path, lines in left.items() if lines > 20}
    found = []
    while left and len(found) < FILES:
        (path,) = chance.choices(list(left), list(left.values()))
        found.append(path.relative_to(TOP))
        del left[path]
    return sorted(found)


def copied(folder: Path, package: str, files: list[Path]) -> None:
    """The project in a folder of its own, set so that those files are changed and that package's tests run."""
    kept = ("donorbase", "data", "migrations", "tests", "pyproject.toml", "README.md", "DEVELOPERS.md", "LICENSE")
    for name in kept:
        source = TOP / name
        shutil.copytree(source, folder / name, ignore=shutil.ignore_patterns("__pycache__")) if source.is_dir() else (
            shutil.copy(source, folder / name)
        )
    chosen = {
        "only_mutate": [str(path) for path in files],
        "pytest_add_cli_args_test_selection": [f"tests/{package}"],
    }
    config = folder / "pyproject.toml"
    text, count = _SELECTED.subn(lambda m: f"{m[1]} = {json.dumps(chosen[m[1]])}", config.read_text("utf-8"))
    assert count == len(chosen), "pyproject.toml has lost its part for mutmut"
    config.write_text(text, "utf-8")


def results(folder: Path) -> dict[str, int | None]:
    """The exit code of the tests for each mutant, None where it was not tried."""
    found: dict[str, int | None] = {}
    for meta in sorted((folder / "mutants" / "donorbase").rglob("*.meta")):
        found |= json.loads(meta.read_text("utf-8"))["exit_code_by_key"]
    return found


def mutmut(folder: Path, *args: str) -> str:
    """What mutmut says, run in a folder with one process at a time."""
    env = {**os.environ, "PYTHONPATH": str(folder / "mutants")}
    env.pop("PYTHONDONTWRITEBYTECODE", None)  # else every mutant compiles all mutants again
    command = [sys.executable, "-m", "mutmut", *args]
    done = subprocess.run(command, cwd=folder, env=env, capture_output=True, text=True, check=False)
    return done.stdout + done.stderr


def sampled(package: str, of_each: int, seed: int) -> tuple[Counter[str], list[str]]:
    """How many mutants of a package ended how, and the changes that no test noticed."""
    from mutmut.stats import status_by_exit_code  # type: ignore[import-not-found]

    chance = random.Random(f"{seed} {package}")
    with tempfile.TemporaryDirectory(prefix="donorbase-mutants-") as place:
        folder = Path(place)
        files = drawn_files(package, chance)
        copied(folder, package, files)
        told = mutmut(folder, "run", "--max-children", "1", "none of them")
        names = sorted(results(folder))
        assert names, told[-2000:]
        chosen = chance.sample(names, min(of_each, len(names)))
        told = mutmut(folder, "run", "--max-children", "1", *chosen)
        ended = {name: status_by_exit_code[results(folder)[name]] for name in chosen}
        assert "not checked" not in ended.values(), told[-2000:]
        # mutmut counts tests that could not even begin as a timeout.
        assert _NEVER_BEGAN not in results(folder).values(), told[-2000:]
        unseen = [
            f"{name}: {status}\n{mutmut(folder, 'show', name)}"
            for name, status in ended.items()
            if status not in _FOUND
        ]
    return Counter(ended.values()), unseen


def main() -> None:
    """The long form."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--of-each", type=int, default=40)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--package", choices=PACKAGES, action="append")
    asked.add_argument("--at-least", type=float, default=0, help="The share of each package that must be found.")
    options = asked.parse_args()
    lines, survivors, began = [], list[str](), time.monotonic()
    for package in options.package or PACKAGES:
        counts, unseen = sampled(package, options.of_each, options.seed)
        found = sum(counts[status] for status in _FOUND)
        lines.append(f"{package}: {found} of {counts.total()} found ({found / counts.total():.0%}); {dict(counts)}")
        print(lines[-1], *unseen, sep="\n", flush=True)
        if found < options.at_least * counts.total():
            sys.exit(f"The tests of {package} find too few: less than {options.at_least:.0%}.")
        survivors += [one.partition(":")[0] for one in unseen]
    lines += [
        f"Seed {options.seed}, {options.of_each} of each package, in {time.monotonic() - began:.0f} s. Not found:"
    ]
    _report(options.package, [*lines, *survivors])


def _report(packages: list[str] | None, lines: list[str]) -> None:
    from .report import keep_report  # type: ignore[import-not-found]

    keep_report("-".join(["mutants", *(packages or ())]), lines)


if __name__ == "__main__":
    main()
