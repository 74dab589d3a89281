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
from typing import Any

SHARES = {
    "values": 0.6, "build": 0.27, "imports": 0.08, "calc": 0.03, "reading": 0.014, "search": 0.005, "judging": 0.001,
}  # fmt: skip
"""Of all inputs; the slow targets get fewer."""
LONGEST = {"reading": 120, "judging": 80, "search": 60, "build": 1500, "imports": 1500, "values": 60, "calc": 60}
"""Bytes of an input; each may stand for a word of several letters."""
SLOW_S, MEMORY_MB = 1.0, 2048
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
    slowest = 0.0

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


def fuzzed(name: str, inputs: int, seed: int, folder: Path) -> dict[str, Any]:
    """One target in a process of its own: how many inputs, seconds, edges reached, the slowest, and what failed.

    What a run before left in the folder counts where it came to its end.
    """
    if (folder / "out").exists() and _DONE.search((folder / "out").read_text()):
        return _found(folder, 0)
    (folder / "corpus").mkdir(parents=True, exist_ok=True)
    for number, raw in enumerate(seeds(name)):
        (folder / "corpus" / f"seed{number}").write_bytes(raw)
    command = [sys.executable, "-m", "tests.trust.fuzz", "--target", name, f"--inputs={inputs}", f"--seed={seed}",
               f"--folder={folder}"]  # fmt: skip
    with (folder / "out").open("w") as out:
        code = subprocess.run(command, stdout=out, stderr=subprocess.STDOUT, check=False).returncode
    return _found(folder, code)


def _found(folder: Path, code: int) -> dict[str, Any]:
    told = (folder / "out").read_text()
    done, reached = _DONE.search(told), _REACHED.findall(told)
    slowest = folder / "slowest"
    return {
        "inputs": int(done[1]) if done else 0,
        "seconds": int(done[2]) if done else 0,
        "edges": int(reached[-1]) if reached else 0,
        "memory_mb": max(map(int, _MEMORY.findall(told)), default=0),
        "slowest_s": float(slowest.read_text()) if slowest.exists() else 0.0,
        "failed": "" if code == 0 and done else f"exit code {code}; {folder}\n{told[-3000:]}",
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
    found = {}
    for name in names:
        inputs = options.inputs if options.target else round(options.inputs * SHARES[name])
        found[name] = fuzzed(name, inputs, options.seed, folder / name)
        print(name, found[name], flush=True)
    _report(found, options.seed)
    if failed := [one["failed"] for one in found.values() if one["failed"]]:
        sys.exit("\n".join(failed))


def _report(found: dict[str, dict[str, Any]], seed: int) -> None:
    from .report import keep_report  # type: ignore[import-not-found]

    memory = max(one["memory_mb"] for one in found.values())
    lines = [
        f"{name}: {one['inputs']:,} inputs in {one['seconds']} s, {one['edges']} edges reached,"
        f" the slowest {one['slowest_s']:.3f} s{'; FAILED' if one['failed'] else ''}"
        for name, one in found.items()
    ]
    total = sum(one["inputs"] for one in found.values())
    lines.append(f"{total:,} inputs chosen by atheris (seed {seed}); at most {memory} MB of memory.")
    if not any(one["failed"] for one in found.values()):
        lines.append(f"No crash, no input over {SLOW_S:g} s of processor time, every refusal in the house's own words.")
    keep_report("fuzz", lines)


if __name__ == "__main__":
    main()
