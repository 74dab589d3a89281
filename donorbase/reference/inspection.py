"""``data/inspection.toml`` -> what to look at on an axle before it is paid for; rows checked."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from donorbase.attributes import attributes
from donorbase.reference.rows import Row
from donorbase.reference.when import When, check_end, rule_file, whens
from donorbase.shipped import data_dir

WEIGHTS = {
    "safe": "Before you reach in",
    "stop": "Ends the deal",
    "price": "Brings the price down",
    "note": "Write it down",
}
"""How much a bad find weighs, the gravest first, each with its title; ``safe`` is looked at before all."""
DRAWINGS = ("bolt_circle", "width", "side", "pinion_height", "tube", "splines", "cover", "straight")
"""The drawings that a look can have."""
_LOOK = ("key", "look", "how", "means", "weight", "end", "of", "drawing", "bring", "basis", "when")


@dataclass(frozen=True, slots=True)
class Look:
    """Something to look at. ``of`` are attributes that it tells; ``when``: any suffices, none means always."""

    key: str
    look: str
    how: str
    means: str
    weight: str
    end: str
    of: tuple[str, ...]
    drawing: str
    bring: tuple[str, ...]
    basis: str
    when: tuple[When, ...]


@cache
def looks() -> tuple[Look, ...]:
    """The shipped looks, those that end a deal first; BadData with every fault of the file."""
    return looks_from(data_dir() / "inspection.toml")


def looks_from(path: Path) -> tuple[Look, ...]:
    """The looks of a file of the shape of ``data/inspection.toml``, those that end a deal first."""
    with rule_file(path, "look") as (_, tables):
        found = [_look(table) for table in tables]
    return tuple(sorted(found, key=lambda look: list(WEIGHTS).index(look.weight)))


def _look(row: Row) -> Look:
    row.only(_LOOK)
    look = Look(
        key=row.needed("key"),
        look=row.needed("look"),
        how=row.needed("how"),
        means=row.needed("means"),
        weight=row.word("weight", set(WEIGHTS)),
        end=row.text("end"),
        of=row.texts("of"),
        drawing=row.text("drawing"),
        bring=row.texts("bring"),
        basis=row.needed("basis"),
        when=whens(row),
    )
    check_end(row, look.end)
    for name in look.of:
        if name not in attributes():
            row.fault("of", f"{name!r} is no attribute")
    if look.drawing and look.drawing not in DRAWINGS:
        row.fault("drawing", f"{look.drawing!r} is none of: {', '.join(DRAWINGS)}")
    return look
