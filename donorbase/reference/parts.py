"""``data/parts.csv`` -> the kinds of pulled parts; rows checked."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from donorbase.attributes import attributes
from donorbase.reference.catalogue import Variant
from donorbase.reference.families import CONFIDENCES
from donorbase.reference.rows import Row, csv_by_word
from donorbase.shipped import data_dir

_KIND_COLUMNS = (
    "kind", "title", "sided", "ends", "only", "interchange", "agree", "carries", "wear", "per_axle", "share_usd",
    "confidence", "basis",
)  # fmt: skip
_KIND_FORM = re.compile(r"[a-z]+(?:-[a-z]+)*")
ENDS = ("front", "rear", "both")
OF_THE_DONOR = ("position", "years", "donor_line")
"""What is true of each piece as it is of the axle: where and on what it was."""
WHOLE = "axle"
"""The kind of a whole axle, which can be taken apart."""


@dataclass(frozen=True, slots=True)
class PartKind:
    """A kind of pulled part.

    ``sided``: a left one does not serve as a right one. ``only`` is an attribute and the value of it without which an
    axle has no such part. ``interchange`` is its word in the rows of what fits what, ``agree`` are the attributes of an
    axle that two axles must share for the part of one to go onto the other, and ``carries`` the further ones that are
    read off this part when it lies apart from its axle; ``wear`` are its words in the wear points; ``per_axle`` is how
    many an axle has; ``share_usd`` is about what one fetches, by which the cost of an axle is shared among its pieces,
    None where it has no share.
    """

    kind: str
    title: str
    sided: bool
    ends: str
    only: tuple[str, str] | None
    interchange: str
    agree: tuple[str, ...]
    carries: tuple[str, ...]
    wear: tuple[str, ...]
    per_axle: int
    share_usd: int | None
    confidence: str
    basis: str

    @property
    def shows(self) -> tuple[str, ...]:
        """The attributes of the axle that can be read off this part alone."""
        return (*OF_THE_DONOR, *self.agree, *self.carries)

    def of_end(self, position: str) -> bool:
        """Whether an axle of that end has such a part."""
        return self.ends in ("both", position)

    def is_on(self, variant: Variant) -> bool | None:
        """Whether an axle of that variant has such a part; None where that is not known."""
        if not self.of_end(variant.family.position):
            return False
        if self.only is None:
            return True
        name, value = self.only
        known = variant.all(name)
        return value in known if len(known) == 1 or (known and value not in known) else None


@cache
def part_kinds() -> Mapping[str, PartKind]:
    """The kinds by their words, in the order of the file; BadData names every fault."""
    return kinds_from(data_dir() / "parts.csv")


def kinds_from(path: Path) -> dict[str, PartKind]:
    """The kinds of a file of the shape of ``data/parts.csv``."""
    return csv_by_word(path, _KIND_COLUMNS, "kind", _kind, "the kinds of parts")


def _words(row: Row, name: str) -> tuple[str, ...]:
    return tuple(filter(None, (word.strip() for word in row.text(name).split(";"))))


def _only(row: Row) -> tuple[str, str] | None:
    name, _, value = row.text("only").partition("=")
    if name and value not in (attributes()[name].values if name in attributes() else ()):
        row.fault("only", f"{row.text('only')!r} is no attribute with one of its values")
    return (name, value) if name else None


def _attributes(row: Row, column: str) -> tuple[str, ...]:
    names = _words(row, column)
    for name in names:
        if name not in attributes():
            row.fault(column, f"{name!r} is no attribute")
    return names


def _kind(row: Row) -> PartKind:
    word = row.needed("kind")
    if word and not _KIND_FORM.fullmatch(word):
        row.fault("kind", f"{word!r} is not words joined by hyphens")
    count, share = row.number("per_axle", 1, 8), row.number("share_usd", 1, 10_000)
    if count is None or not count.is_integer():
        row.fault("per_axle", "must be a whole number")
    return PartKind(
        kind=word,
        title=row.needed("title"),
        sided=row.word("sided", ("yes", "no")) == "yes",
        ends=row.word("ends", ENDS),
        only=_only(row),
        interchange=row.text("interchange"),
        agree=_attributes(row, "agree"),
        carries=_attributes(row, "carries"),
        wear=_words(row, "wear"),
        per_axle=int(count or 1),
        share_usd=None if share is None else int(share),
        confidence=row.word("confidence", CONFIDENCES),
        basis=row.needed("basis"),
    )
