"""Events of a part -> how it stands. Each event says which fields it changed, from what to what.

The rows of the store are the present standing kept at hand; this is the law they must obey.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from donorbase.reference.shelf_words import FREE

HERE = (FREE, "reserved")
"""States in which the part lies on the shelf."""
UNDOABLE = ("moved", "note", "photo", "changed", "measured", "held", "released")
"""What can be taken back. A part that should never have been added is ``removed``, which can be."""

_FOLLOWS = {"reserved": ("lent", "used", "sold"), "lent": ("sold", "used"), "used": ("sold", "lent")}
_COMES_BACK = ("reserved", "lent", "used", "sold", "scrapped")


@dataclass(frozen=True, slots=True)
class Step:
    """An event: its number, its kind, what the fields were and what they became, the event that it took back."""

    id: int
    kind: str
    before: Mapping[str, Any] = field(default_factory=dict)
    after: Mapping[str, Any] = field(default_factory=dict)
    undoes: int | None = None


def standing(steps: Iterable[Step]) -> dict[str, Any]:
    """The fields of a part after all its events, in the order in which they were noted.

    >>> standing([Step(1, "added", {}, {"place": "shed", "state": "shelf"}),
    ...           Step(2, "moved", {"place": "shed"}, {"place": "loft"}),
    ...           Step(3, "undo", undoes=2)])
    {'place': 'shed', 'state': 'shelf'}
    """
    fields: dict[str, Any] = {}
    seen: dict[int, Step] = {}
    for step in steps:
        seen[step.id] = step
        if step.undoes is None:
            fields |= step.after
            continue
        undone = seen[step.undoes]
        fields = {name: value for name, value in fields.items() if name not in undone.after} | dict(undone.before)
    return fields


def last_undoable(steps: Sequence[Step]) -> Step | None:
    """The newest event that can be taken back and was not; None where nothing is left."""
    undone = {step.undoes for step in steps}
    return next((s for s in reversed(steps) if s.kind in UNDOABLE and s.id not in undone), None)


def may_follow(state: str, holder: str, wanted: str, wanted_holder: str) -> bool:
    """Whether what holds a part may give way to something else without its being released first.

    A part promised to somebody can be lent, sold or fitted for that same one; for another it must be released.
    """
    return wanted in _FOLLOWS.get(state, ()) and holder.casefold() == wanted_holder.casefold()


def comes_back(state: str) -> bool:
    """Whether a part in that state can be released to the shelf."""
    return state in _COMES_BACK
