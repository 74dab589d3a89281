"""The words of the trade: ``data/vocabulary.csv`` -> typed words, and the meaning text that users write too.

A meaning is one or more clauses, ``name=value`` or ``name+=value``, parted by semicolons:
``donor_line=line-A; load_class=one-ton``. A name is an attribute, ``family``, ``variant``, or (in the shipped list
only) one of the reader's own roles, such as ``unit`` or ``cue``.
"""

import csv
from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache

from donorbase.attributes import Attribute, Kind, attribute, attributes
from donorbase.errors import BadData, BadInput
from donorbase.facts import Value
from donorbase.shipped import data_dir

ROLES = frozenset(
    {
        "item", "unit", "label", "cue", "side", "hand", "hump", "hazard", "nothing", "count", "thing", "trait", "time",
        "doubt", "aim", "answer",
    }
)  # fmt: skip
"""What a shipped word can be besides a fact.

``unit`` stands after a number and says what it counts or measures; ``label`` stands beside one and says what it is of;
``side`` is inner or outer; ``hand`` is a side of the vehicle, ``hump`` the thing that hangs there (``diff``, ``drop``,
or a ``lump`` that needs a word of place beside it); ``count`` is a number in a word (``pair``);
``thing`` and ``trait`` tell something together (``data/tellings.csv``); ``item`` names a thing
that can be for sale;
``cue`` turns what is said near it (denial, possession, hedge, fitment ...); ``hazard`` is a sign that calls for care;
``time`` tells what was (``past`` before what it speaks of, ``once`` behind it) from what is (``present``);
``doubt`` tells what is only ``possible``, was left ``unchecked``, is ``told`` by somebody, or was ``mended``;
``aim`` is what somebody means to make of a thing; ``answer`` is yes or no;
``nothing`` is a set phrase whose words must not be read one by one (``duly noted``).
"""

_FLAGS = {"true": True, "yes": True, "false": False, "no": False}


@dataclass(frozen=True, slots=True)
class Meaning:
    """One clause of a meaning: an attribute or role, its value, and whether it adds to a list (``+=``)."""

    name: str
    value: Value
    adds: bool = False

    @property
    def is_role(self) -> bool:
        """Whether it speaks to the reader only."""
        return self.name in ROLES


@dataclass(frozen=True, slots=True)
class Word:
    """A phrase with what it means; ``origin`` is ``shipped`` or ``user``."""

    phrase: str
    meanings: tuple[Meaning, ...]
    origin: str = "user"
    note: str = ""
    language: str = "en"
    basis: str = ""


def parse_meaning(text: str, *, roles: bool = False) -> tuple[Meaning, ...]:
    """The clauses of a meaning text; BadInput names what is not known and what comes near it."""
    clauses = [clause.strip() for clause in text.split(";") if clause.strip()]
    if not clauses:
        raise BadInput("the meaning is empty", "Write what the word means, such as: donor_line=line-A; lugs=8")
    return tuple(_clause(clause, roles) for clause in clauses)


def _clause(clause: str, roles: bool) -> Meaning:
    if roles and clause == "nothing":
        return Meaning("nothing", True)
    name, sign, value = clause.partition("=")
    if not sign or not value.strip():
        raise BadInput(f"{clause!r} is no meaning", "Write name=value, such as: rear_wheels=dual")
    adds = name.endswith("+")
    name = name.rstrip("+ ").strip()
    if roles and name in ROLES:
        return Meaning(name, value.strip())
    kind = _named(name)
    return Meaning(kind.name, _value(kind, value.strip()), adds)


def _named(name: str) -> Attribute:
    try:
        return attribute(name)
    except KeyError:
        near = get_close_matches(name, attributes(), 3, 0.5)
        hint = f"Near it: {', '.join(near)}." if near else "`donorbase identify --names` lists those of an axle."
        raise BadInput(f"there is no attribute {name!r}", hint) from None


def _value(kind: Attribute, text: str) -> Value:
    if kind.kind is Kind.CHOICE:
        return _choice(kind, text)
    if kind.kind is Kind.FLAG:
        return _flag(kind, text)
    if kind.kind in (Kind.TEXT, Kind.KEY):
        return text
    if kind.kind in (Kind.YEARS, Kind.RANGE):
        return _pair(kind, text)
    return _number(kind, text)


def _choice(kind: Attribute, text: str) -> str:
    if text in kind.values:
        return text
    near = get_close_matches(text, kind.values, 3, 0.5) or list(kind.values)
    raise BadInput(f"{text!r} is no value of {kind.name}", f"Near it: {', '.join(near)}.")


def _flag(kind: Attribute, text: str) -> bool:
    if text.lower() not in _FLAGS:
        raise BadInput(f"{text!r} is no value of {kind.name}", "Write true or false.")
    return _FLAGS[text.lower()]


def _number(kind: Attribute, text: str) -> float | int:
    try:
        value = float(text)
    except ValueError:
        raise BadInput(f"{kind.name} takes a number, not {text!r}", f"Such as: {kind.name}=8") from None
    low, high = kind.low, kind.high
    if (low is not None and value < low) or (high is not None and value > high) or value != value:
        raise BadInput(f"{text} is no believable {kind.name}", f"It lies between {low:g} and {high:g}.")
    return int(value) if kind.kind is Kind.COUNT else value


def _pair(kind: Attribute, text: str) -> tuple[float | None, float | None]:
    first, dash, last = text.strip("[]() ").replace(",", "-").replace("..", "-").partition("-")
    ends = [_end(kind, part) for part in ((first, last) if dash else (first, first))]
    if ends == [None, None] or (None not in ends and ends[0] > ends[1]):  # type: ignore[operator]
        raise BadInput(f"{text!r} is no {kind.kind} for {kind.name}", "Write first-last, such as: years=1999-2004")
    return ends[0], ends[1]


def _end(kind: Attribute, text: str) -> float | int | None:
    if text.strip() in ("", "null", "on"):
        return None
    value = _number(kind, text.strip())
    return int(value) if kind.kind is Kind.YEARS else value


def words_of(rows: Iterable[dict[str, str]], place: str) -> tuple[Word, ...]:
    """Rows of a vocabulary as words; BadData lists every faulty row with its line."""
    words, faults = [], []
    seen: set[tuple[str, str]] = set()
    for line, row in enumerate(rows, 2):
        try:
            meanings = parse_meaning(row["meaning"], roles=True)
        except BadInput as wrong:
            faults.append(f"{place}:{line}: {row['phrase']}: {wrong.what}")
            continue
        rest = {key: row.get(key) or "" for key in ("note", "language", "basis")}
        if (row["phrase"], rest["language"]) in seen:
            faults.append(f"{place}:{line}: {row['phrase']} stands twice")
        seen.add((row["phrase"], rest["language"]))
        words.append(Word(row["phrase"], meanings, "shipped", **rest))
    if faults:
        raise BadData("the vocabulary cannot be used", faults, "Mend the rows named above.")
    return tuple(words)


@cache
def load_words() -> tuple[Word, ...]:
    """The shipped words of the trade."""
    path = data_dir() / "vocabulary.csv"
    with path.open(encoding="utf-8", newline="") as lines:
        return words_of(csv.DictReader(lines), path.name)


@cache
def ordinary_words() -> frozenset[str]:
    """Words of everyday English that must never be taken for a misspelt word of the trade."""
    return frozenset((data_dir() / "ordinary-words.txt").read_text("utf-8").split())


@cache
def spelt_words() -> frozenset[str]:
    """Words that are spelt as they should be, whatever they mean; the ordinary ones among them."""
    return ordinary_words() | frozenset((data_dir() / "spelt-words.txt").read_text("utf-8").split())


@cache
def plain_words() -> frozenset[str]:
    """Words that tell of no harm where an advert says them of a piece of an axle; any other English word may."""
    return frozenset((data_dir() / "plain-words.txt").read_text("utf-8").split())
