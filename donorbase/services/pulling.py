"""A pulled part put on the shelf: tagged, with what is known of it."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from donorbase.errors import BadInput, NotFound
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.parts import part_kinds
from donorbase.reference.shelf_words import FREE, SIDES
from donorbase.services.candidates import candidate_row
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.near import near_keys
from donorbase.services.shelf import FIELDS, Part, find_part
from donorbase.services.show import existing_key
from donorbase.shelf.tags import tag_of
from donorbase.store import shelf as stored

if TYPE_CHECKING:
    from donorbase.store.engine import Connection

_MILES = 2_000_000
LONGEST_WORDS = 20_000
"""Characters of a note or a condition: longer than any that a person types of one part."""


@dataclass(frozen=True, slots=True)
class Pulled:
    """What is told of a part when it is put on the shelf; None where it is not known.

    ``axle`` is a variant or family of the catalogue, ``candidate_id`` the listing it was bought as.
    """

    kind: str
    side: str | None = None
    axle: str | None = None
    candidate_id: int | None = None
    year: int | None = None
    miles: int | None = None
    place: str = ""
    cost_cents: int | None = None
    condition: str = ""
    photo: str = ""


def pull(house: House, told: Pulled, when: Occasion) -> Part:
    """Put a part on the shelf; the part with its tag. BadInput or NotFound say what is wrong with what was told."""
    fields = checked_fields(house, {name: getattr(told, name) for name in FIELDS}, when.on.year)
    with house.keeping() as connection:
        if fields["candidate_id"] is not None:
            candidate_row(connection, fields["candidate_id"])
        return put_on_shelf(connection, fields, when, photo=told.photo)


def put_on_shelf(
    connection: "Connection",
    fields: Mapping[str, Any],
    when: Occasion,
    *,
    photo: str = "",
    out_of: int | None = None,
    number: int | None = None,
    about: Mapping[str, Any] | None = None,
) -> Part:
    """A new part of fields that are checked, with its first event; ``number`` is its own where it has a tag already.

    ``about`` is what is remembered of it from the first, under its subjects.
    """
    number = number or stored.next_number(connection)
    tag = tag_of(number)
    stored.add_part(connection, {**fields, "id": number, "tag": tag, "out_of": out_of, "made_at": datetime.now(UTC)})
    note_event(connection, number, "added", when, after={**fields, "state": FREE, **(about or {})})
    if photo:
        note_event(connection, number, "photo", replace(when, words=""), after={"photo": photo})
    return find_part(connection, tag)


def note_event(
    connection: "Connection",
    part_id: int,
    kind: str,
    when: Occasion,
    *,
    before: Mapping[str, Any] | None = None,
    after: Mapping[str, Any] | None = None,
    undoes: int | None = None,
) -> int:
    """Keep an event of a part, with what fields were and became; its number."""
    checked_words(when.words, "the note")
    detail = {name: dict(values) for name, values in (("before", before), ("after", after)) if values}
    row = {"part_id": part_id, "kind": kind, "happened_on": when.on, "noted_at": datetime.now(UTC)}
    row |= {
        "who": when.who,
        "note": when.words.strip(),
        "detail": json.dumps(detail) if detail else "",
        "undoes": undoes,
    }
    return stored.add_event(connection, row)


def checked_words(words: str, what: str) -> str:
    """Words that can be kept; BadInput where they are far too long, or hold bytes of no encoding."""
    if len(words) > LONGEST_WORDS:
        raise BadInput(
            f"{what} has {len(words):,} characters, at most {LONGEST_WORDS:,} are kept",
            "Keep the long text in a file, and note where it lies.",
        )
    if any(0xD800 <= ord(sign) <= 0xDFFF for sign in words) or "\0" in words:
        raise BadInput(f"{what} holds bytes that are no UTF-8", "Type it anew, or set your terminal to UTF-8.")
    return words


def checked_fields(house: House, fields: Mapping[str, Any], this_year: int) -> dict[str, Any]:
    """Fields of a part as they are kept; BadInput or NotFound where one cannot be."""
    # As one says it: "outer shaft" is the kind outer-shaft.
    found = {**fields, "kind": "-".join(str(fields["kind"]).casefold().split())}
    found |= {name: checked_words(found[name].strip(), f"the {name}") for name in ("place", "condition")}
    about = part_kinds().get(found["kind"])
    if about is None:
        near = near_keys(found["kind"], part_kinds(), limit=4)
        hint = f"Near it: {', '.join(near)}." if near else f"Kinds: {', '.join(part_kinds())}."
        raise NotFound(f"there is no kind of part {found['kind']!r}", hint)
    if found["side"] not in (None, *SIDES):
        raise BadInput(f"{found['side']!r} is no side", f"Sides of somebody in the driver's seat: {', '.join(SIDES)}.")
    if found["axle"]:
        found["axle"] = _axle(found["axle"], house.catalogue(), about.ends)
    _in_range("a year", found["year"], 1940, this_year + 2)
    _in_range("miles", found["miles"], 0, _MILES)
    return found


def _axle(typed: str, catalogue: Catalogue, ends: str) -> str:
    key = existing_key(typed, catalogue)
    if key in catalogue.variants:
        position = catalogue.variants[key].family.position
    elif key in catalogue.families:
        position = catalogue.families[key].position
    else:
        raise BadInput(f"{key} is no axle", "Name a variant or a family; `donorbase find` lists them.")
    if ends not in ("both", position):
        raise BadInput(f"{key} is a {position} axle, which has no such part", f"Such parts are of {ends} axles.")
    return key


def _in_range(what: str, number: int | None, low: int, high: int) -> None:
    if number is not None and not low <= number <= high:
        raise BadInput(f"{number} cannot be {what}", f"Give one from {low} to {high}.")
