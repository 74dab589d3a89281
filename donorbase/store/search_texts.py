"""Words -> the sightings in whose texts they stand, and how well they fit there."""

import json
import re
from collections.abc import Sequence

from sqlalchemy import Connection, or_, select, text

from donorbase.store.bits import set_of
from donorbase.store.schema import table

_S = table("sighting").c
# One text of all numbers: as many rows would have Python look for what can be thrown away, which takes longer.
_HOLDING = text("SELECT group_concat(rowid) FROM sighting_text WHERE sighting_text MATCH :words")
# The plus keeps SQLite from asking its index for each number alone, which takes longer.
_FITTING = text(
    "SELECT rowid, bm25(sighting_text, 2.0, 1.0) FROM sighting_text"
    " WHERE sighting_text MATCH :words AND +rowid IN (SELECT value FROM json_each(:ids))"
)


def holding(connection: Connection, spellings: Sequence[str]) -> int:
    """The sightings that have a word with one of these beginnings."""
    if connection.dialect.name == "sqlite":
        listed = connection.execute(_HOLDING, {"words": _matching(spellings)}).scalar()
        return set_of(map(int, listed.split(","))) if listed else 0
    # Two conditions, so that the index of each column can be used.
    begun = [rf"\m{re.escape(one)}" for one in spellings]
    found = or_(*(column.regexp_match(one, flags="i") for one in begun for column in (_S.title, _S.text)))
    return set_of(connection.execute(select(_S.id).where(found)).scalars().all())


def fit_of(connection: Connection, wanted: Sequence[Sequence[str]], ids: Sequence[int]) -> dict[int, float]:
    """How well the words fit into the texts of these sightings: the lower, the better; on a server not known."""
    found: dict[int, float] = {}
    if connection.dialect.name != "sqlite" or len(ids) < 2:
        return found
    for spellings in wanted:
        asked = {"words": _matching(spellings), "ids": json.dumps(list(ids))}
        for sighting_id, fit in connection.execute(_FITTING, asked).all():
            found[sighting_id] = found.get(sighting_id, 0.0) + fit
    return found


def _matching(spellings: Sequence[str]) -> str:
    """What FTS5 is asked for; what was typed stands in quotes, where no sign means anything."""
    return " OR ".join(f'"{one}"*' for one in spellings)
