"""A condition -> the sightings of which a thing meets it, and those of which it is contradicted."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from donorbase.attributes import PAIRS, Attribute, Kind, attributes
from donorbase.reference.conditions import Condition, Span
from donorbase.store.bits import at_most
from donorbase.store.columns import columns_of
from donorbase.store.reading_rows import OFFER
from donorbase.store.search_index import Index
from donorbase.store.search_rows import MEASURED, number_of, slices_of

_SPLINES = ("splines", "outer_splines", "inner_splines")

ONLY_SAID = {"has": "missing", "missing": "has", "defects": "", "price_terms": ""}
"""Lists of which silence on one value says nothing, though another is named, and the list that contradicts it."""


@dataclass(frozen=True, slots=True)
class Truth:
    """Sightings whose thing meets a condition, and whose thing contradicts it; not said is neither."""

    meets: int
    wrong: int


def names_asked(condition: Condition) -> set[str]:
    """The names of the index that a condition looks at."""
    name = condition.attribute
    asked = set(_SPLINES) if name in _SPLINES else {name, ONLY_SAID.get(name) or name}
    columns = {column for one in asked for column in columns_of(attributes()[one])}
    return asked | columns | ({slices_of(name)} if name in MEASURED else set())


def truth_of(condition: Condition, index: Index, item: int) -> Truth:
    """What the index knows of a condition for the things of that number."""
    name = condition.attribute
    if name in _SPLINES:
        return _splines(condition, index, item)
    meets, known = _of(condition, index, item)
    if name not in ONLY_SAID:
        return Truth(meets, known & ~meets)
    other = ONLY_SAID[name]
    wrong = _held(attributes()[other], condition, index, item) & ~meets if other else 0
    return Truth(meets, wrong)


def _splines(condition: Condition, index: Index, item: int) -> Truth:
    """A count of splines may be of either end of a shaft: where one of them has it, it is met."""
    asked = condition.attribute
    meets = told = 0
    for name in {"splines", asked, *(_SPLINES if asked == "splines" else ())}:
        found, known = _of(Condition(name, condition.text, condition.spans, condition.words), index, item)
        meets |= found
        # Shafts are named by their outer ends; a count inside says nothing of them.
        told |= known if name != "inner_splines" or asked == name else 0
    return Truth(meets, told & ~meets)


def _of(condition: Condition, index: Index, item: int) -> tuple[int, int]:
    """Sightings whose thing meets a condition, and those that say anything of it."""
    asked = attributes()[condition.attribute]
    if asked.kind in PAIRS:
        return _overlap(asked, condition, index, item)
    where = OFFER if asked.scope == "offer" else item
    known = _any(index.values(asked.name, where).values())
    meets = _held(asked, condition, index, item)
    if asked.name in MEASURED:
        said = index.one(slices_of(asked.name), "known", OFFER)
        return meets | _measured(asked.name, said, condition.spans, index), known | said
    return meets, known


def _held(asked: Attribute, condition: Condition, index: Index, item: int) -> int:
    fits = _fits(asked, condition)
    where = OFFER if asked.scope == "offer" else item
    return _any(held for value, held in index.values(asked.name, where).items() if fits(value))


def _fits(asked: Attribute, condition: Condition) -> Callable[[str], bool]:
    if asked.kind is Kind.CHOICE:
        return set(condition.words).__contains__
    if asked.kind in (Kind.TEXT, Kind.KEY):
        return lambda value: any(word in value.lower() for word in condition.words)
    return lambda value: any(_within(float(value), span) for span in condition.spans)


def _within(number: float, span: Span) -> bool:
    low, high = span
    return (low is None or number >= low) and (high is None or number <= high)


def _measured(name: str, known: int, spans: Iterable[Span], index: Index) -> int:
    values = index.values(slices_of(name), OFFER)
    places = [int(place) for place in values if place != "known"]
    slices = [values.get(str(place), 0) for place in range(max(places, default=-1) + 1)]
    found = 0
    for low, high in spans:
        inside = known if high is None else at_most(slices, known, number_of(high))
        found |= inside if low is None else inside & ~at_most(slices, known, number_of(low) - 1)
    return found


def _overlap(asked: Attribute, condition: Condition, index: Index, item: int) -> tuple[int, int]:
    """Pairs that overlap a span; one without its high end goes on for ever."""
    where = OFFER if asked.scope == "offer" else item
    low, high = (index.values(column, where) for column in columns_of(asked))
    begins, ends = _any(low.values()), _any(high.values())
    found = 0
    for least, most in condition.spans:
        early = begins if most is None else _any(held for value, held in low.items() if float(value) <= most)
        late = [held for value, held in high.items() if least is None or float(value) >= least]
        found |= early & (_any(late) | ~ends)
    return found, begins | ends


def _any(sets: Iterable[int]) -> int:
    found = 0
    for one in sets:
        found |= one
    return found
