"""Words from outside can do nothing to who reads them: not to his terminal, his spreadsheet, his pages or his files.

The signs: C0 and C1 controls of ISO/IEC 6429 (escape sequences begin with ESC or CSI), the bidirectional controls of
Unicode Standard Annex #9, and what Unicode calls default ignorable; each through the commands as they are run.
"""

import csv
import io
import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

KINDS = {
    "BEL": "\x07", "BS": "\x08", "CR": "\r", "a title by OSC": "\x1b]0;owned\x07", "DCS": "\x1bP1$x\x1b\\",
    "a link by OSC 8": "\x1b]8;;http://x\x1b\\", "colour by CSI": "\x1b[31m", "hidden by CSI": "\x1b[8m",
    "the screen cleared": "\x1b[2J\x1b[H",
    "DEL": "\x7f", "C1 CSI": "\x9b2K", "C1 OSC": "\x9d0;x\x9c", "NEL": "\x85", "right to left": "\u202e",
    "isolate": "\u2067", "a mark": "\u200f", "zero width space": "\u200b", "ZWNJ": "\u200c", "ZWJ": "\u200d",
    "word joiner": "\u2060", "BOM": "\ufeff", "soft hyphen": "\u00ad", "a tag": "\U000e0041", "filler": "\u3164",
    "selector": "\U000e0101", "line separator": "\u2028", "private use": "\ue000", "joiner": "\u034f",
}  # fmt: skip
ALL = "".join(f"{n}{sign}" for n, sign in enumerate(KINDS.values()))
SEEN = re.compile("[\u034f\u115f\u1160\u2800\u3164\uffa0\U000e0100-\U000e01ef]")
MARKUP = "<script>alert(1)</script><img src=x onerror=alert(2)>\"'><svg onload=alert(3)>{{ 7*7 }}{% raw %}"
AXLE = "front axle off a 2008 one ton, coil, ball joint, SRW, 8x170, 3.73, driver side, $900 obo"
DEMO = Path(__file__).parents[2] / "data" / "demo"


def clean(output: str) -> None:
    """Nothing but what is printable, and seen."""
    assert all(c == "\n" or c.isprintable() for c in output), [c for c in output if not c.isprintable()][:5]
    assert not SEEN.search(output)


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_of_sign_in_a_listing(run: Any, kind: str) -> None:
    text = f"{AXLE}. No{KINDS[kind]}rust, bent{KINDS[kind]}tube"
    for args in (["read"], ["read", "--steps"], ["read", "--json"]):
        result = run(*args, text=text)
        assert result.exit_code == 0, result.stderr
        clean(result.output)
        assert "170" in result.stdout


def test_json_loses_nothing_of_it(run_fresh: Any) -> None:
    assert run_fresh("build", "add", str(DEMO / "crawler.toml")).exit_code == 0
    assert run_fresh("candidate", "add", "-", "--build", "crawler", text=f"{AXLE} {ALL}").exit_code == 0
    shown = run_fresh("candidate", "show", "1", "--json")
    clean(shown.stdout)
    assert json.loads(shown.stdout)["sightings"][0]["text"].endswith(ALL.replace("\r", "\n"))


@pytest.fixture
def kept(run_fresh: Any, tmp_path: Path) -> Any:
    """A build, candidates, a yard and parts, each word of them hostile."""
    build = tmp_path / "crawler.toml"
    told = json.dumps(f"crawler {MARKUP}")
    text = (DEMO / "rock-truck.toml").read_text("utf-8")
    build.write_text(re.sub(r"^name = .*$", lambda _: f"name = {told}", text, count=1, flags=re.M), "utf-8")
    hostile = f"{ALL} {MARKUP}"
    rows = [
        {"text": f"{AXLE} {n} {hostile}", "title": f"=cmd|x {hostile}", "url": f"javascript:alert(1){n} {hostile}",
         "source": f"+{hostile}", "price": 900}
        for n in range(2)
    ]  # fmt: skip
    ads = tmp_path / "ads.jsonl"
    ads.write_text("".join(json.dumps(row) + "\n" for row in rows), "utf-8")
    for args in (
        ("build", "add", str(build)),
        ("candidate", "import", str(ads), "--build", "crawler"),
        ("candidate", "asked", "1", "--note", f"@{hostile}", "--who", hostile),
        ("candidate", "note", "1", f"={hostile}"),
        ("part", "add", "knuckle", "--side", "left", "--place", f"=1+1 {hostile}", "--note", hostile, "--who", hostile),
        ("part", "photo", "AAC4", f"/tmp/{hostile.replace(chr(0), '')}.jpg"),
        ("part", "reserve", "AAC4", "--for", hostile),
    ):
        result = run_fresh(*args)
        assert result.exit_code == 0, (args, result.output, result.exception)
        clean(result.output)
    return run_fresh


SHOWN = (
    "build list", "build show crawler", "candidate list", "candidate show 1", "candidate history 1",
    "candidate judge", "shortlist -b crawler --relax", "pairs -b crawler", "prices", "search front",
    "sheet 1", "sheet 1 --text", "part list", "part show AAC4", "part history AAC4", "part needs -b crawler",
    "part matrix", "part money", "db history", "db status", "candidate list --csv", "part list --csv", "find --lugs 8",
    "candidate list --json", "candidate history 1 --json", "part show AAC4 --json", "db history --json",
    "report -b crawler -o -",
)  # fmt: skip


def test_nothing_printed_can_steer_a_terminal(kept: Any) -> None:
    looked = 0
    for line in SHOWN:
        result = kept(*line.split())
        assert result.exit_code in (0, 2), (line, result.output, result.exception)
        looked += result.exit_code == 0
        clean(result.output)
    assert looked >= len(SHOWN) - 4


def test_names_of_files_and_options_in_errors(run: Any, tmp_path: Path) -> None:
    name = f"no such {ALL}.txt".replace("\n", "")
    for args in (
        ("read", name), ("check", "--build", name), ("candidate", "show", name), ("find", "--lugs", name), (name,),
        ("candidate", "import", name, "--all-builds"), ("build", "show", name), ("show", name), ("words", name),
        ("read", f"--{name}"), ("part", "show", name), ("calc", "tires", name), ("read", "--encoding", name, "-"),
    ):  # fmt: skip
        result = run(*args, text="front axle")
        assert result.exit_code in (2, 3, 5), (args, result.output)
        clean(result.output)


def test_no_cell_of_csv_is_a_formula(kept: Any) -> None:
    for line in ("candidate list --csv", "part list --csv", "part export --csv", "words sheet"):
        result = kept(*line.split())
        if result.exit_code == 2:
            continue
        rows = list(csv.reader(io.StringIO(result.stdout)))
        assert len(rows) > 1, line
        for cell in (cell for row in rows for cell in row):
            assert not re.match(r"[=+\-@\t\r\n＝＋－＠]", cell) or re.fullmatch(r"[-+]?[\d.]+", cell), (line, cell)


def test_no_word_becomes_markup_on_a_page(kept: Any, tmp_path: Path) -> None:
    for args in (("report", "-b", "crawler"), ("sheet", "1")):
        page = tmp_path / "page.html"
        assert kept(*args, "-o", str(page)).exit_code == 0
        html = page.read_text("utf-8")
        assert "&lt;script&gt;" in html
        assert "<script" not in html
        assert "<img" not in html
        assert "<svg onload" not in html
        clean(html)


def test_pages_are_for_their_owner_alone(kept: Any, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    for _ in range(2):
        assert kept("report", "-b", "crawler", "-o", str(page)).exit_code == 0
        assert page.stat().st_mode & 0o777 == 0o600
    assert [path.name for path in tmp_path.glob("*.part")] == []


def test_sellers_numbers_leave_the_house_only_when_asked_for(run_fresh: Any, tmp_path: Path) -> None:
    """In JSON and CSV for others, pages and exports; the screen of who is to call him, copies and backups have them."""
    assert run_fresh("build", "add", str(DEMO / "rock-truck.toml")).exit_code == 0
    advert = f"{AXLE}, call 555-0142 or joe@example.com"
    assert run_fresh("candidate", "add", "-", "--build", "rock-truck", text=advert).exit_code == 0
    note = "he answers at 212-555-0142"
    assert run_fresh("candidate", "asked", "1", "--note", note).exit_code == 0
    assert run_fresh("part", "add", "knuckle", "--side", "left", "--note", note, "--place", note).exit_code == 0
    number = re.compile(r"555-?0142|joe@")
    for line in (
        "candidate list --json", "candidate list --csv", "candidate show 1 --json", "candidate history 1 --json",
        "shortlist -b rock-truck --json", "report -b rock-truck --json", "report -b rock-truck -o -",
        "sheet 1 --json", "sheet 1 -o -", "sheet 1 --text", "search front --json", "part list --json",
        "part show AAC4 --json", "part history AAC4 --json", "part export", "part export --csv", "prices --json",
    ):  # fmt: skip
        result = run_fresh(*line.split())
        assert result.exit_code == 0, (line, result.output, result.exception)
        assert not number.search(result.stdout), line
    for text in (["read", "--json"], ["check", "--build", "rock-truck", "--json"]):
        result = run_fresh(*text, text=advert)
        assert result.exit_code == 0, result.stderr
        assert not number.search(result.stdout), text
    for line in ("candidate show 1", "candidate history 1", "part show AAC4", "--contacts candidate show 1 --json",
                 "--contacts part export", "part export --contacts", "part export --csv --contacts"):  # fmt: skip
        assert number.search(run_fresh(*line.split()).stdout), line
    moved, masked = tmp_path / "moved.jsonl", tmp_path / "masked.jsonl"
    assert run_fresh("db", "export", str(moved), "--contacts").exit_code == 0
    assert "--contacts keeps them" in run_fresh("db", "export", str(masked)).stderr
    assert number.search(moved.read_text("utf-8"))
    assert not number.search(masked.read_text("utf-8"))


def test_a_fault_of_the_program_can_be_sent_on(tmp_path: Path) -> None:
    """What is printed then ends up in reports of bugs: it has no numbers, and does nothing to a terminal."""
    script = (
        "import sys\nfrom donorbase.cli import main\n"
        "def cli(**_): raise RuntimeError('call 555-0142 or joe@example.com \\x1b[2J \\u202e 4.10')\n"
        "main.cli = cli\nmain.run()\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False, cwd=tmp_path)
    assert done.returncode == 1
    assert "RuntimeError" in done.stderr
    assert "4.10" in done.stderr
    assert "a fault of the program" in done.stderr
    assert "[number] or [address]" in done.stderr
    assert "555-0142" not in done.stderr.replace(script, "")
    clean(done.stderr)


def test_paths_in_imports_are_words_and_lead_nowhere(run_fresh: Any, tmp_path: Path) -> None:
    """No file that an import speaks of is opened, read or written; links that lead out of a folder are faults."""
    secret, opened = tmp_path / "secret.txt", list[str]()
    secret.write_text(f"{AXLE} secret", "utf-8")
    folder = tmp_path / "ads"
    folder.mkdir()
    (folder / "one.txt").write_text(AXLE, "utf-8")
    (folder / "link.txt").symlink_to(secret)
    (folder / "up").symlink_to(tmp_path, target_is_directory=True)
    sheet = tmp_path / "heap.csv"
    paths = (str(secret), "../secret.txt", "file:///etc/passwd", "//host/share/x.jpg", "\\\\host\\share\\x.jpg")
    rows = [f'knuckle,left,"{path}","{path}"' for path in paths]
    sheet.write_text("\n".join(["kind,side,place,photos", *rows, ""]), "utf-8")
    watching = True

    def watch(event: str, args: tuple[Any, ...]) -> None:
        if watching and event in ("open", "os.rename", "os.remove", "os.symlink", "os.link", "shutil.copyfile"):
            opened.append(str(args[0]))

    sys.addaudithook(watch)  # there is no taking it away, so it is told to look no more
    try:
        assert run_fresh("build", "add", str(DEMO / "crawler.toml")).exit_code == 0
        done = run_fresh("candidate", "import", str(folder), "--build", "crawler", "--keep-good")
        assert "leads out of the folder" in done.stderr
        assert run_fresh("part", "import", str(sheet)).exit_code == 0
        tags = [one["tag"] for one in json.loads(run_fresh("part", "list", "--json").stdout)]
        for args in (*(("part", "show", tag) for tag in tags), ("candidate", "list"), ("part", "export")):
            assert run_fresh(*args).exit_code == 0
    finally:
        watching = False
    assert len(tags) == len(paths)
    assert any(path.endswith("one.txt") for path in opened), "the test sees nothing"
    assert not [path for path in opened if path.endswith(("secret.txt", "link.txt", "passwd", "x.jpg"))]
    assert "secret" not in run_fresh("candidate", "list", "--json").stdout
