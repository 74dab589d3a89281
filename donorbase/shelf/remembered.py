"""What is remembered of a part beside its fields: facts measured, set-up, papers, terms, care; out of its events.

An event that tells such a thing has it in ``after`` under a subject and a name, ``fact lugs`` or ``paper seller``, so
that it is undone, exported and read back like everything else that happened.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from donorbase.shelf.standing import Step, standing

SUBJECTS = ("fact", "said", "setup", "paper", "return", "care")


def remembered(steps: Iterable[Step], subject: str) -> dict[str, Any]:
    """What stands of a subject after all events, by name.

    >>> remembered([Step(1, "measured", {}, {"fact lugs": "8", "place": "loft"})], "fact")
    {'lugs': '8'}
    """
    begin = f"{subject} "
    return {
        name.removeprefix(begin): value
        for name, value in standing(steps).items()
        if name.startswith(begin) and value is not None
    }


def under(subject: str, told: Mapping[str, Any]) -> dict[str, Any]:
    """What is told, as an event keeps it.

    >>> under("paper", {"seller": "A. Example"})
    {'paper seller': 'A. Example'}
    """
    return {f"{subject} {name}": value for name, value in told.items()}
