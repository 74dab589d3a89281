"""Inputs chosen by what they reach in the code, many of them: nothing crashes, hangs or takes memory without end.

Needs atheris (`pip install atheris`), which is not among the development tools since few machines have a wheel of it.
The long form, which keeps a report: `nice -n 15 python -m tests.trust.fuzz --inputs 2000000`.
"""

import argparse
import json
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable
from pathlib import Path

SHARES = {
    "values": 0.75, "build": 0.1, "imports": 0.1, "calc": 0.037, "reading": 0.009, "search": 0.003, "judging": 0.001,
}  # fmt: skip
"""Of all inputs; the slow targets get fewer."""
LONGEST = {"reading": 120, "judging": 80, "search": 60, "build": 1500, "imports": 1500, "values": 60, "calc": 60}
"""Bytes of an input; each may stand for a word of several letters."""
SLOW_S, MEMORY_MB = 1.0, 2048
ROUNDS, OF_ROUND = 5, 100_000
"""Each target gets a part of its inputs in every round, and the report is written after each; few need one round."""
_DONE = re.compile(r"^Done (\d+) runs in (\d+) second", re.MULTILINE)
_REACHED = re.compile(r"\bcov: (\d+)")
_MEMORY = re.compile(r"\brss: (\d+)Mb")


def one_target(name: str, inputs: int, seed: int, folder: Path) -> None:
    """Never returns: libFuzzer ends the process. The slowest input's time is kept in `slowest`."""
    import atheris

    with atheris.instrument_imports(include=["donorbase", "tomllib"]):
        from .targets import TARGETS  # type: ignore[import-not-found]  # tests are no package for mypy

        target = TARGETS[name]
        target(b"\x01\x05\x0a")  # what is imported late is instrumented, too
    before = folder / "slowest"
    slowest = float(before.read_text()) if before.exists() else 0.0

    def timed(raw: bytes) -> None:
        nonlocal slowest
        began = time.process_time()
        target(raw)
        took = time.process_time() - began
        if took > slowest:
            slowest = took
            (folder / "slowest").write_text(f"{took:.3f}")
        assert took < SLOW_S, f"{took:.1f} s"

    options = (f"-runs={inputs}", f"-seed={seed}", f"-max_len={LONGEST[name]}", f"-rss_limit_mb={MEMORY_MB}",
               f"-artifact_prefix={folder}/", "-timeout=20")  # fmt: skip
    atheris.Setup([sys.argv[0], *options, str(folder / "corpus")], timed)
    atheris.Fuzz()


def seeds(name: str) -> Iterable[bytes]:
    """What a target begins from: the demo's listings and builds, written out."""
    demo = Path(__file__).parents[2] / "data" / "demo"
    rows = (demo / "listings.jsonl").read_text("utf-8").splitlines()
    if name in ("reading", "judging", "search"):
        yield from (b"\0" + json.loads(row)["text"].encode()[: LONGEST[name] - 1] for row in rows)
    elif name == "build":
        yield from (b"\0" + path.read_bytes() for path in sorted(demo.glob("*.toml")))
    elif name == "imports":
        texts = ("\n".join(rows[:3]), "text,price\nfront axle,400\n", "row,year,model\nA4,2004,one ton\n")
        mail = (
            "From a@example.com Tue Nov  3 10:00:00 2026\nSubject: axle\nDate: Tue, 03 Nov 2026 10:00:00 -0600\n\n4.10"
        )
        yield from (bytes([form << 2]) + text.encode() for form in range(6) for text in (*texts, mail))
    else:
        yield from (bytes([which << 2]) + text for which in range(16) for text in (b"3 1/2in", b"35", b"40x13.50R17"))


def fuzzed(name: str, inputs: int, seed: int, folder: Path) -> None:
    """One target in a process of its own until so many inputs were tried in its folder, those of earlier runs too."""
    corpus, out = folder / "corpus", folder / "out"
    corpus.mkdir(parents=True, exist_ok=True)
    for number, raw in enumerate(seeds(name)):
        (corpus / f"seed{number}").write_bytes(raw)
    told = out.read_text() if out.exists() else ""
    left = inputs - sum(int(tried) for tried, _ in _DONE.findall(told))
    if left <= 0:
        return
    command = [sys.executable, "-m", "tests.trust.fuzz", "--target", name, f"--inputs={left}",
               f"--seed={seed + len(_DONE.findall(told))}", f"--folder={folder}"]  # fmt: skip
    with out.open("a") as file:
        code = subprocess.run(command, stdout=file, stderr=subprocess.STDOUT, check=False).returncode
    if code:
        sys.exit(f"{name} failed:\n{out.read_text()[-3000:]}")


def found_of(folder: Path) -> dict[str, float]:
    """What came of a target so far: inputs, seconds, edges reached, memory in MB, the slowest input's time."""
    told = (folder / "out").read_text()
    done = _DONE.findall(told)
    slowest = folder / "slowest"
    return {
        "inputs": sum(int(tried) for tried, _ in done),
        "seconds": sum(int(took) for _, took in done),
        "edges": max(map(int, _REACHED.findall(told)), default=0),
        "memory_mb": max(map(int, _MEMORY.findall(told)), default=0),
        "slowest_s": float(slowest.read_text()) if slowest.exists() else 0.0,
    }


def main() -> None:
    """All targets one after the other, or one of them in this process."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--inputs", type=int, default=2_000_000)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--target", choices=SHARES)
    asked.add_argument("--folder", type=Path, help="Go on in the folder of a run that was stopped.")
    options = asked.parse_args()
    if options.target and options.folder:
        one_target(options.target, options.inputs, options.seed, options.folder)
    folder = options.folder or Path(tempfile.mkdtemp(prefix="donorbase-fuzz-"))
    names = [options.target] if options.target else list(SHARES)
    rounds = max(1, min(ROUNDS, options.inputs // OF_ROUND))
    for round_ in range(1, rounds + 1):
        for name in names:
            share = 1 if options.target else SHARES[name]
            fuzzed(name, round(options.inputs * share * round_ / rounds), options.seed, folder / name)
            print(round_, name, found_of(folder / name), flush=True)
        _report({name: found_of(folder / name) for name in names})


def _report(found: dict[str, dict[str, float]]) -> None:
    from .report import keep_report  # type: ignore[import-not-found]

    lines = [
        f"{name}: {one['inputs']:,} inputs in {one['seconds']} s, {one['edges']} edges reached,"
        f" the slowest {one['slowest_s']:.3f} s, at most {one['memory_mb']} MB"
        for name, one in found.items()
    ]
    total = sum(one["inputs"] for one in found.values())
    lines += [
        f"{total:,} inputs chosen by atheris by what they reach.",
        f"No crash, none over {SLOW_S:g} s of processor time, every refusal in the house's own words.",
    ]
    keep_report("fuzz", lines)


if __name__ == "__main__":
    main()
