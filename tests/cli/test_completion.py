"""What Tab proposes, through click's protocol and in the shells themselves."""

import os
import pty
import select
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from donorbase.cli.completion import INSTALL
from donorbase.services.known import SOURCES, known
from tests.cli.conftest import runner_on

pytestmark = pytest.mark.sqlite
ROOT = Path(__file__).parents[2]
HEAVY = ("sqlmodel", "sqlalchemy", "alembic", "pydantic", "rapidfuzz", "tabulate")
END = "that-was-all"


@pytest.fixture(scope="module")
def home(template: str, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A home with a program called donorbase in ``bin``, and a database that holds something of each kind."""
    folder = tmp_path_factory.mktemp("home")
    for file in Path(template).parent.glob(f"{Path(template).name}*"):
        if file.is_file():
            shutil.copy(file, folder / f"own.sqlite3{file.name.removeprefix(Path(template).name)}")
    run = runner_on(folder / "own.sqlite3")
    for args in (
        ["build", "add", str(ROOT / "data/demo/crawler.toml")],
        ["part", "add", "knuckle", "--side", "left", "--place", "shed 3"],
        ["part", "add", "rotor", "--place", "loft: by the window"],
    ):
        assert run(*args).exit_code == 0
    kept = run("candidate", "add", "--build", "crawler", text="Front axle off an 06 one ton, 8x170, $900 obo 555-0101")
    assert kept.exit_code == 0, kept.stderr
    (folder / "bin").mkdir()
    program = folder / "bin" / "donorbase"
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m donorbase "$@"\n')
    program.chmod(0o755)
    (folder / "advert.txt").write_text("Front axle, $500")
    for shell in INSTALL:
        (folder / f"complete.{shell}").write_text(asked(folder, "completion", shell))
    return folder


def surroundings(home: Path) -> dict[str, str]:
    told = {"HOME": str(home), "DONORBASE_DB": str(home / "own.sqlite3"), "PYTHONPATH": str(ROOT), "TERM": "xterm"}
    return {**os.environ, **told, "PATH": f"{home / 'bin'}:{os.environ['PATH']}", "LC_ALL": "C.UTF-8"}


def asked(home: Path, *args: str, **more: str) -> str:
    command = [str(home / "bin" / "donorbase"), *args]
    return subprocess.run(
        command, env=surroundings(home) | more, capture_output=True, text=True, check=True, cwd=home
    ).stdout


def proposed(home: Path, line: str) -> list[str]:
    """What bash's script gets for a line."""
    told = asked(home, COMP_LINE=f"donorbase {line}", _DONORBASE_COMPLETE="bash_complete")
    return [answer.partition(",")[2] for answer in told.splitlines()]


LINES = [
    ("ch", ["check"]),
    ("part fac", ["fact"]),
    ("db ba", ["back", "backup"]),
    ("check --bu", ["--build"]),
    ("check --build cr", ["crawler", "cr"]),  # the second asks the shell for files
    ("build show cra", ["crawler", "cra"]),
    ("shortlist -b ", ["crawler"]),
    ("show front-9.75-kingpin/b-1977-1991-s", ["front-9.75-kingpin/b-1977-1991-srw"]),
    ("show gg-9.75-r", ["gg-9.75-reverse-pre17", "gg-9.75-reverse-17on"]),
    ("show line-", ["line-A", "line-B", "line-C", "line-D", "line-E"]),
    ("candidate show ", ["1"]),
    ("candidate list --verdict un", ["unclear"]),
    ("candidate correct 1 knuckle=ki", ["knuckle=kingpin"]),
    ("part show AA", ["AAEY", "AAC4"]),
    ("part show aac", ["AAC4"]),
    ("part move AAC4 ", ["loft: by the window", "shed 3"]),
    ("part add hous", ["housing"]),
    ("part list --state r", ["reserved", "removed"]),
    ("part measure AAC4 rotor-th", ["rotor-thickness"]),
    ("part setup AAC4 backl", ["backlash="]),
    ("part paper AAC4 rec", ["receipt="]),
    ("identify --saw rear_", ["rear_wheels="]),
    ("identify --saw rear_wheels=", ["rear_wheels=single", "rear_wheels=dual"]),
    ("find --rear-wheels single,d", ["single,dual"]),
    ("find --position=fr", ["--position=front"]),
    ("order --locker lunch", ["lunchbox"]),
    ("priors set rear-10.50-four", None),
    ("--db nowhere.sqlite3 check --build ", [""]),
    ("--db nowhere.sqlite3 show front-9.75-kingpin/b-1977-1991-s", ["front-9.75-kingpin/b-1977-1991-srw"]),
    ("--db postgresql://kim@nowhere/donorbase build show ", [""]),
]


@pytest.mark.parametrize(("line", "expected"), LINES, ids=[line for line, _ in LINES])
def test_what_is_proposed(home: Path, line: str, expected: list[str] | None) -> None:
    found = proposed(home, line)
    if expected is None:
        assert found
        assert all(name.startswith(line.split()[-1]) for name in found)
    else:
        assert found == expected
    assert not (home / "nowhere.sqlite3").exists(), "completion makes no database"


def test_every_source_has_names(home: Path) -> None:
    empty = {what for what in SOURCES if not known(what, str(home / "own.sqlite3"))}
    assert empty == {"people", "yards", "measured axles", "own words", "own patterns"}, "nobody told any of these yet"
    for what in SOURCES.keys() - empty:
        names = known(what, str(home / "own.sqlite3"))
        assert all(name and "\n" not in name + about for name, about in names), what


def test_completion_loads_nothing_heavy(home: Path) -> None:
    for line in ("donorbase ch", "donorbase part list --pl", "donorbase candidate show ", "donorbase show front-"):
        code = (
            "import sys, atexit\n"
            f"atexit.register(lambda: print([m for m in {HEAVY!r} if m in sys.modules], file=sys.stderr))\n"
            "from donorbase.cli.main import run\nrun()"
        )
        done = subprocess.run(
            [sys.executable, "-c", code],
            env=surroundings(home) | {"COMP_LINE": line, "_DONORBASE_COMPLETE": "bash_complete"},
            capture_output=True, text=True, check=True,
        )  # fmt: skip
        assert done.stdout, line
        assert done.stderr.strip() == "[]", line


def typed_in(shell: list[str], home: Path, begin: str, line: str) -> str:
    """The words that the line has after Tab, by the shell that a terminal runs."""
    child, terminal = pty.fork()
    if child == 0:
        os.chdir(home)
        os.execvpe(shell[0], shell, surroundings(home))
    try:
        # Ctrl-A goes to the beginning, where a command is put that shows the words.
        os.write(terminal, f"{begin}\necho rea''dy\n".encode())
        said = _until(terminal, "ready\r\n")
        os.write(terminal, f"{line}\t".encode())
        _until(terminal, "", seconds=2.5)
        os.write(terminal, f"\x01printf '<%s>' \x05; echo {END[:4]}''{END[4:]}\n".encode())
        said = _until(terminal, END)
        assert END in said, said
        return said[said.rindex("<donorbase>") :].partition(END)[0].strip()
    finally:
        os.close(terminal)
        os.waitpid(child, 0)


def _until(terminal: int, word: str, seconds: float = 20) -> str:
    said, last = "", time.monotonic() + seconds
    while time.monotonic() < last and not (word and word in said):
        if select.select([terminal], [], [], 0.1)[0]:
            said += os.read(terminal, 65536).decode("utf-8", "replace")
            if not word:
                last = min(last, time.monotonic() + 0.5)
    return said


IN_A_SHELL = [
    ("donorbase chec", "<donorbase><check>"),
    ("donorbase show front-9.75-kingpin/b-1977-1991-s", "<donorbase><show><front-9.75-kingpin/b-1977-1991-srw>"),
    ("donorbase check --build cra", "<donorbase><check><--build><crawler>"),
    ("donorbase part move AAC4 she", "<donorbase><part><move><AAC4><shed 3>"),
    ("donorbase part move AAC4 'she", "<donorbase><part><move><AAC4><shed 3>"),
    ("donorbase part move AAC4 lof", "<donorbase><part><move><AAC4><loft: by the window>"),
    ("donorbase identify --saw knuckle=ki", "<donorbase><identify><--saw><knuckle=kingpin>"),
    ("donorbase identify --saw suspen", "<donorbase><identify><--saw><suspension=>"),
    ("donorbase find --position=fr", "<donorbase><find><--position=front>"),
    ("donorbase read adv", "<donorbase><read><advert.txt>"),
]


@pytest.mark.parametrize(("line", "words"), IN_A_SHELL, ids=[line for line, _ in IN_A_SHELL])
@pytest.mark.parametrize("shell", ["bash", "zsh"])
def test_tab_in_a_terminal(home: Path, shell: str, line: str, words: str) -> None:
    if not shutil.which(shell):
        pytest.skip(f"{shell} is not installed")
    begin = {
        "bash": "PS1='$ '; unset PROMPT_COMMAND; source complete.bash",
        "zsh": "PS1='$ '; bindkey -e; autoload -Uz compinit; compinit -D -u; source complete.zsh",
    }[shell]
    command = {"bash": ["bash", "--norc", "--noprofile", "-i"], "zsh": ["zsh", "-f", "-i"]}[shell]
    assert typed_in(command, home, begin, line) == words


IN_FISH = [
    ("donorbase chec", ["check\tJudge a pasted listing against a build."]),
    ("donorbase identify --saw knuckle=ki", ["knuckle=kingpin"]),
    ("donorbase identify --saw suspen", ["suspension=\tsprings it was made for"]),
    ("donorbase part move AAC4 she", ["shed 3\t1 parts"]),
    ("donorbase find --position=fr", ["--position=front"]),
    ("donorbase check --build cra", ["crawler"]),
    ("donorbase read adv", ["advert.txt"]),
]


@pytest.mark.parametrize(("line", "answers"), IN_FISH, ids=[line for line, _ in IN_FISH])
def test_tab_in_fish(home: Path, line: str, answers: list[str]) -> None:
    if not shutil.which("fish"):
        pytest.skip("fish is not installed")
    script = f"source complete.fish; complete -C {line!r}" if "'" not in line else ""
    done = subprocess.run(
        ["fish", "--no-config", "-c", script],
        env=surroundings(home), capture_output=True, text=True, check=True, cwd=home,
    )  # fmt: skip
    assert done.stdout.splitlines() == answers
    assert done.stderr == ""


@pytest.mark.parametrize("shell", INSTALL)
def test_the_script_says_how_to_keep_it(home: Path, shell: str) -> None:
    script = (home / f"complete.{shell}").read_text()
    assert f"donorbase completion {shell}" in script.split("\n\n")[0]
    if shutil.which(shell):
        subprocess.run([shell, "-n", str(home / f"complete.{shell}")], check=True)


def test_another_shell_is_refused_with_those_there_are(run) -> None:
    result = run("completion", "tcsh")
    assert result.exit_code == 2
    assert "'bash', 'zsh', 'fish'" in result.stderr
