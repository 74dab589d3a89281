"""Something remembered of a part beside its fields, noted in an event of its own."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.pulling import checked_words, note_event
from donorbase.services.shelf import Part, events_of, find_part, steps_of
from donorbase.shelf.remembered import remembered, under
from donorbase.store import shelf as stored

if TYPE_CHECKING:
    from donorbase.store.engine import Connection


def remember(
    house: House,
    tag: str,
    subject: str,
    told: Mapping[str, Any],
    when: Occasion,
    *,
    kind: str = "changed",
    more: Mapping[str, Any] | None = None,
) -> Part:
    """Keep what is told of a part under a subject; what was told before stays in the history.

    ``more`` is kept in the same event, under names of its own.
    """
    for name, value in told.items():
        checked_words(str(value), name)
    with house.keeping() as connection:
        part = find_part(connection, tag)
        was = what_stands(connection, part, subject)
        before = {name: was.get(name) for name in told}
        after = under(subject, told) | dict(more or {})
        note_event(connection, part.id, kind, when, before=under(subject, before), after=after)
        return part


def what_stands(connection: "Connection", part: Part, subject: str) -> dict[str, Any]:
    """What is remembered of a part under a subject."""
    return remembered(steps_of(events_of(stored.read_events(connection, part.id))), subject)
