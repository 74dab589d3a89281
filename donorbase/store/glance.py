"""A glance into the file of a database by SQLite alone: names for completion, which must not wait for the store.

It only reads, makes and migrates nothing, and gives nothing where it cannot read: whoever opens the database in full
says why.
"""

import sqlite3
from contextlib import closing
from pathlib import Path

AT_MOST = 5_000
"""Rows of one glance: more names than these help nobody."""

_ASKED = {
    "builds": "SELECT name, '' FROM build ORDER BY name",
    "families": "SELECT family, name FROM family ORDER BY place",
    "variants": "SELECT variant, title FROM variant ORDER BY family, place",
    "gear_sets": "SELECT gear_set, '' FROM gear_set ORDER BY place",
    "lines": "SELECT line, '' FROM donor_line ORDER BY place",
    "candidates": "SELECT c.id, c.state || ' for ' || c.build || coalesce(': ' || (SELECT substr(trim(s.title || ' ' "
    "|| replace(s.text, char(10), ' ')), 1, 50) FROM sighting s WHERE s.listing_id = c.listing_id "
    "ORDER BY s.id DESC LIMIT 1), '') FROM candidate c ORDER BY c.id DESC",
    "parts": "SELECT tag, trim(coalesce(side, '') || ' ' || kind) || coalesce(', ' || nullif(place, ''), '') FROM part "
    "ORDER BY id DESC",
    "places": "SELECT place, count(*) || ' parts' FROM part WHERE place != '' GROUP BY place ORDER BY place",
    "people": "SELECT DISTINCT person, '' FROM part_hold WHERE person IS NOT NULL ORDER BY person",
    "yards": "SELECT name, coalesce('list of ' || listed_on, '') FROM yard ORDER BY name",
    "measured_axles": "SELECT DISTINCT axle, '' FROM claim ORDER BY axle",
    "own_words": "SELECT phrase, meaning FROM word WHERE origin = 'user' ORDER BY phrase",
    "own_patterns": "SELECT pattern, 'weighs ' || weight FROM own_prior ORDER BY pattern",
}


def glance(path: Path, what: str) -> list[tuple[str, str]]:
    """The names of one kind that a database holds, each with a few words on it."""
    try:
        with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True, timeout=0.2)) as connection:
            rows = connection.execute(_ASKED[what]).fetchmany(AT_MOST)
    except (sqlite3.Error, ValueError):
        # No database yet, one of another release, or one that somebody holds: there is nothing to propose.
        return []
    return [(str(name), str(about or "")) for name, about in rows]
