"""What is fuzzed: each target takes bytes from outside, which may be refused only by an error of the house's own.

A target takes its bytes as text or, where the first of them is odd, as numbers of words and lines that the program
knows, so that chance comes past the first word. `fuzz.py` lets atheris choose the bytes by what they reach,
`test_fuzz.py` lets hypothesis do so.
"""

import csv
import itertools
import json
import tempfile
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import date
from functools import cache
from pathlib import Path

from click.testing import CliRunner

from donorbase.attributes import attributes
from donorbase.cli.main import cli
from donorbase.engineering.tires import read_tire
from donorbase.engineering.vin import read_vin
from donorbase.errors import DonorbaseError
from donorbase.identity.observations import observe
from donorbase.reading.clean import clean
from donorbase.reference import units
from donorbase.reference.conditions import parse_condition
from donorbase.reference.words import parse_meaning
from donorbase.services.contacts import without_contacts
from donorbase.services.desk import RAW_MEASUREMENTS, Desk
from donorbase.services.intake import listing_text
from donorbase.services.search_query import understand
from donorbase.services.shown import escaped_json, shown
from donorbase.services.sources import FORMS, Source
from donorbase.services.yards import read_list
from donorbase.shipped import data_dir
from donorbase.verdict.build import read_build

YEAR = 2026
DEMO = data_dir() / "demo"
Words = Sequence[str]


@cache
def desk() -> Desk:
    """The desk with the shipped words and figures."""
    return Desk.as_shipped(YEAR)


@cache
def trade_words() -> Words:
    """Words of listings: the vocabulary's, and signs and numbers as sellers write them."""
    with (data_dir() / "vocabulary.csv").open(encoding="utf-8", newline="") as rows:
        phrases = [row["phrase"] for row in csv.DictReader(rows)]
    numbers = "4.10 410s 3.73 8x6.5 8x170 8 6 35 30 1 2 14 05-07 1985 '99 '05 $400 900 1.5k 142k 69 1/2 R12-04 555-0142"
    signs = ["\n", ".", ",", ";", ":", "!", "?", "(", ")", "/", "-", "~~", "|", '"', "'", "&", "#", "*", "\n- ", "½",
             "no", "not", "w/", "w/o", "missing", "fits", "for", "my", "or", "and", "both", "wtb", "sold"]  # fmt: skip
    return (*signs, *numbers.split(), *phrases[:: max(1, len(phrases) // 180)])


@cache
def build_lines() -> Words:
    """Lines of the demo's builds, and values that stand in none."""
    known = [line for name in sorted(DEMO.glob("*.toml")) for line in name.read_text("utf-8").splitlines() if line]
    odd = ['name = ""', "lugs = 0", "lugs = -8", "lugs = true", "ratio = inf", "ratio = nan", "ratio = 1e400",
           "[front]", "[front.must]", "[[front.must]]", "[front.must.lugs]", "[rear.avoid]", "at_least = 5",
           "at_most = 4", "lugs = []", "lugs = [[]]", "lugs = {}", "lugs = { at_least = 9, at_most = 5 }",
           'kind = "axle"', "kind = 3", "wants = []", 'wants = ["front", "front"]', "x = 2026-11-25", "= 3", "[", "]]",
           'tires = "40x"', "landed_limit_usd = -1", "# note"]  # fmt: skip
    return (*odd, *dict.fromkeys(known))


_IMPORTED = ("text", "title", "price", "url", "date", "zip", "miles", ",", ";", "\t", '"', '""', "\n", "\r\n", "{", "}",
             "[", "]", ":", '{"text": "front axle 4.10"}', '"text"', "null", "1e999", "-1", "2026-11-25", "11/31/26",
             "\n-----\n", "From a@example.com Tue Nov  3 10:00:00 2026\n", "Subject: =?utf-8?b?", "?=\n",
             "Content-Type: multipart/mixed; boundary=x\n\n--x\n", "Content-Type: text/html; charset=nope\n\n",
             "<p>axle", "<br>", "&#55296;", "front axle", "Row 12", "2004", "stk 44", "\ufeff", "\x00",
             "'=1+1")  # fmt: skip
_QUANTITIES = ("3", "/", "4", "in", '"', " ", "5 ft", "mm", "cm", "-", "+", "1e9", ".", ",", "0", "40x13.50R17",
               "205/60R15", "x", "R", "LT", "8x6.5", "lb", "kg", "mph", "km/h", "lb-ft", "nm", "deg", "%", "nan",
               "inf", "1" * 400, "١", "²", "½", "at least", "or more", "..", "to", "true", "front", "35+", "<",
               ">=")  # fmt: skip


def told(raw: bytes, words: Words) -> str:
    """The text of the bytes: written out, or put together from known words."""
    if raw[:1] and raw[0] & 1:
        glue = " " if raw[0] & 2 else ""
        return glue.join(words[n % len(words)] for n in raw[1:400])
    return raw[1:].decode("utf-8", "replace")


def reading(raw: bytes) -> None:
    """Any text gives a reading; each fact shows its words; nothing printed of it can steer a terminal."""
    text = told(raw, trade_words())
    plain = clean(text).text
    assert clean(plain).text == plain
    found = desk().read(text)
    for fact in itertools.chain(found.offer, found.hazards, *(item.facts for item in found.items)):
        assert all(text[begin:end].strip() for begin, end in fact.spans), fact
    line = json.dumps(found.as_json(), ensure_ascii=False)
    assert json.loads(escaped_json(line)) == json.loads(line)
    assert all(c == "\n" or c.isprintable() for c in shown(text))
    assert without_contacts(without_contacts(text)) == without_contacts(text)


@cache
def _build() -> object:
    return read_build((DEMO / "crawler.toml").read_text("utf-8"), "crawler", works=desk().catalogue.works)


def judging(raw: bytes) -> None:
    """Any text can be judged, and its verdict is data."""
    checked = desk().check(told(raw, trade_words()), _build())
    assert json.dumps(checked.as_json())
    assert checked.cautions is not None


def build_file(raw: bytes) -> None:
    """A build file is read or refused with its faults; what was read can be written out and read to the same."""
    text = "\n".join(_known_lines(raw)) if raw[:1] and raw[0] & 1 else told(raw, ())
    with suppress(DonorbaseError):
        found = read_build(text, "x.toml", works=desk().catalogue.works)
        assert read_build(found.as_toml(), "x.toml", works=desk().catalogue.works).as_toml() == found.as_toml()


def _known_lines(raw: bytes) -> list[str]:
    return [build_lines()[n % len(build_lines())] for n in raw[1:400]]


@cache
def _folder() -> Path:
    return Path(tempfile.mkdtemp(prefix="donorbase-fuzz-", dir="/dev/shm" if Path("/dev/shm").is_dir() else None))


def imports(raw: bytes) -> None:
    """A file of any form gives listings and faults; a paste, text or a refusal; a yard's list, vehicles or faults."""
    form = FORMS[(raw[0] >> 2) % len(FORMS)] if raw else "page"
    if form in ("folder", "parquet"):  # a folder is made of pastes; Parquet is another library's work
        with suppress(DonorbaseError):
            listing_text(raw[1:], "it")
        with suppress(DonorbaseError):
            read_list(told(raw, _IMPORTED), "list")
        return
    path = _folder() / f"x.{form}"
    path.write_bytes(told(raw, _IMPORTED).encode() if raw[:1] and raw[0] & 1 else raw[1:])
    with suppress(DonorbaseError):
        for found in Source(path, form, date(2026, 11, 1)):
            assert bool(found.seen) != bool(found.fault), found


def search(raw: bytes) -> None:
    """A query is understood or refused."""
    with suppress(DonorbaseError):
        assert json.dumps([one.as_json() for one in understand(told(raw, trade_words()), desk()).filters])


_PARSERS: tuple[Callable[[str], object], ...] = (
    units.parse_length, units.parse_length_mm, units.parse_weight, units.parse_speed, units.parse_torque,
    units.parse_force, units.parse_angle, units.parse_offset_mm, units.parse_distance, units.parse_number, read_tire,
    lambda text: read_vin(text, YEAR), parse_meaning,
)  # fmt: skip


def values(raw: bytes) -> None:
    """What a person writes for a quantity, a condition, a meaning or a measurement is taken or refused."""
    which, text = raw[0] >> 2 if raw else 0, told(raw, _QUANTITIES)
    names = (*sorted(attributes()), *RAW_MEASUREMENTS)
    name = names[raw[1] % len(names)] if raw[1:] else "lugs"
    with suppress(DonorbaseError):
        _PARSERS[which % len(_PARSERS)](text)
    with suppress(DonorbaseError):
        if name in attributes():
            parse_condition(name, text)
    observe({name: text}, latest_year=YEAR)


_SUMS = ("gearing --tires {0} --mph {1}", "mismatch {0} {1}", "ratio {0}", "tires {0} {1}", "vin {0}",
         "shaft --splines {0}", "bolt-circle {0} {1}", "wheel --width {0} --backspacing {1}", "caster {0} {1} {0} {1}",
         "tie-down {0} {1}", "wait {0} {1} {0}", "distance {0} {1}", "joint {0}", "brakes --bore {0}",
         "steering --drag-link {0}")  # fmt: skip


def calc(raw: bytes) -> None:
    """A sum on the command line ends in an answer or in words on what is wrong, never in a traceback."""
    sum_ = _SUMS[(raw[0] >> 2) % len(_SUMS)] if raw else _SUMS[0]
    text = told(raw, _QUANTITIES).replace("\0", "")
    half = len(text) // 2
    args = [word.format(text[:half], text[half:]) for word in sum_.split()]
    done = CliRunner().invoke(cli, ["calc", *args], prog_name="donorbase")
    if done.exception and not isinstance(done.exception, SystemExit):
        raise done.exception
    assert done.exit_code in (0, 2, 3, 5), (args, done.exit_code, done.output)


TARGETS: dict[str, Callable[[bytes], None]] = {
    "reading": reading, "judging": judging, "build": build_file, "imports": imports, "search": search,
    "values": values, "calc": calc,
}  # fmt: skip
