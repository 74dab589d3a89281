"""What a listing claims of its axle that a second advert of the same axle would claim alike."""

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any

from donorbase.facts import Fact, Known, Reading
from donorbase.reposts.sketch import all_words

Claims = Mapping[str, Mapping[Any, tuple[str, ...]]]
"""By attribute: every value that the listing states, of whichever of its things, and the words that gave it."""

TELLING = (
    "position", "years", "fits_years", "ratio", "drop", "lugs", "bolt_circle_mm", "rear_wheels", "inner_splines",
    "outer_splines", "splines", "knuckle", "pinion", "float", "ring_gear_in", "width_in", "cover_bolts", "brakes",
    "suspension", "differential", "load_class", "mileage_mi", "vin", "zip", "part",
)  # fmt: skip
"""Attributes of which another value means another thing."""

_ROUNDED = 0.012
"""Miles are rounded to the thousand: 142k is 141,650."""


def claims_of(reading: Reading) -> dict[str, dict[Any, tuple[str, ...]]]:
    """The telling values of a reading; what it contradicts or only infers is left out."""
    found: dict[str, dict[Any, tuple[str, ...]]] = {}
    for fact in _facts(reading):
        if fact.attribute in TELLING and fact.known in (Known.STATED, Known.HEDGED):
            words = tuple(word for begin, end in fact.spans for word in all_words(reading.text[begin:end]))
            found.setdefault(fact.attribute, {}).setdefault(fact.value, words)
    return found


def _facts(reading: Reading) -> Iterable[Fact]:
    yield from reading.offer
    for item in reading.items:
        yield from item.facts


def parted_by(one: Claims, other: Claims, one_text: str, other_text: str) -> str:
    """The first attribute of which both speak and agree in no value; empty where there is none.

    Silence parts nothing: a fact may be left out of the second advert. Nor does what one text was read to say and
    the other was not, although the words for it stand in both: a reading may err, and then errs in one of them.
    """
    counted: list[Counter[str]] = []
    for name in TELLING:
        if name in one and name in other and not any(_same(name, a, b) for a in one[name] for b in other[name]):
            counted = counted or [Counter(all_words(one_text)), Counter(all_words(other_text))]
            if _shown(one[name], *counted) and _shown(other[name], *reversed(counted)):
                return name
    return ""


def _shown(values: Mapping[Any, tuple[str, ...]], here: Counter[str], there: Counter[str]) -> bool:
    """Whether a word that gave one of the values stands here more often than there."""
    return any(here[word] > there[word] for words in values.values() for word in words)


def _same(name: str, one: Any, other: Any) -> bool:
    if name in ("years", "fits_years"):
        return bool(
            (one[0] is None or other[1] is None or one[0] <= other[1])
            and (other[0] is None or one[1] is None or other[0] <= one[1])
        )
    if name == "mileage_mi":
        return bool(abs(one - other) <= _ROUNDED * max(one, other))
    return bool(one == other)
