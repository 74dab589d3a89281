"""Names that can be typed, each with a few words on it: what the shell proposes when Tab is pressed.

Nothing is opened in full for it: names come from a glance into the file of the database and from the shipped facts.
Of a database on a server only the shipped names are known, since no key press should wait for a network.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

from donorbase.services.shown import shown
from donorbase.shipped import data_dir
from donorbase.store.glance import glance
from donorbase.store.server import is_server

Names = list[tuple[str, str]]
Source = Callable[[str], Names]
"""Names for a database, told by its path or URL."""

_KEY = re.compile(r'^key = "([^"]+)"(?:\n(?:name|title) = "([^"]*)")?', re.MULTILINE)
_FIRST_CELL = re.compile(r"^([^,\n]+),", re.MULTILINE)


def _kept(what: str) -> Source:
    """Names that only the user's database has."""
    return lambda place: [] if is_server(place) else glance(Path(place), what)


def _catalogued(what: str, shipped: Callable[[], Names]) -> Source:
    """Names of the catalogue: those of the database, or as shipped where none is there yet."""
    return lambda place: _kept(what)(place) or shipped()


def _of_files(variants: bool) -> Names:
    """Keys and titles of families or variants as they stand in ``data/families``, without checking the figures."""
    found: Names = []
    for path in sorted((data_dir() / "families").glob("*.toml")):
        (family, name), *rows = _KEY.findall(path.read_text("utf-8"))
        found += [(f"{family}/{key}", title) for key, title in rows] if variants else [(family, name)]
    return found


def _first_cells(file: str) -> Names:
    """The first column of a table of ``data/``."""
    return [(key, "") for key in _FIRST_CELL.findall((data_dir() / file).read_text("utf-8"))[1:]]


def _lines() -> Names:
    return [(key, "") for key, _ in _KEY.findall((data_dir() / "lines.toml").read_text("utf-8"))]


_families = _catalogued("families", lambda: _of_files(variants=False))
_variants = _catalogued("variants", lambda: _of_files(variants=True))
_gear_sets = _catalogued("gear_sets", lambda: _first_cells("gearsets.csv"))
_donor_lines = _catalogued("lines", _lines)


def _all_of(*sources: Source) -> Source:
    return lambda place: [name for source in sources for name in source(place)]


def _rows(rows: Iterable[tuple[str, str]]) -> Names:
    return [(name, about.splitlines()[0] if about else "") for name, about in rows]


def _attributes(place: str) -> Names:
    from donorbase.attributes import of_scope

    return [(a.name, a.title) for a in of_scope("axle") if a.measurable]


def _saw(place: str) -> Names:
    from donorbase.services.desk import RAW_MEASUREMENTS

    return _attributes(place) + _rows(RAW_MEASUREMENTS.items())


def _facts(place: str) -> Names:
    from donorbase.attributes import attributes

    return [(a.name, a.title) for a in attributes().values()]


def _kinds(place: str) -> Names:
    from donorbase.reference.parts import part_kinds

    return [(kind.kind, kind.title) for kind in part_kinds().values()]


def _measures(place: str) -> Names:
    from donorbase.reference.measures import measures

    return [(one.measure, one.title) for one in measures().values()]


def _setup_points(place: str) -> Names:
    from donorbase.reference.setup_points import setup_points

    return [(one.name, one.title) for one in setup_points().values()]


def _under_the_vehicle(place: str) -> Names:
    from donorbase.verdict.fitup_sums import MEASURES, POINTS

    return _rows({**MEASURES, **POINTS}.items())


def _papers(place: str) -> Names:
    from donorbase.services.papers import PAPERS

    return _rows(PAPERS.items())


def _cares(place: str) -> Names:
    from donorbase.reference.upkeep import cares

    return [(one.care, one.do) for one in cares().values()]


def _lockers(place: str) -> Names:
    from donorbase.reference.lockers import INSERTS, KINDS

    return _rows({**KINDS, **INSERTS}.items())


def _schemas(place: str) -> Names:
    from donorbase.store.revision import revisions

    return [(name, "") for name in revisions()]


def _priced(place: str) -> Names:
    """The words by which a build names its own prices: work, parts, and groups of parts."""
    from donorbase.reference.judging import judging

    groups = {row.group: "all of them together" for row in judging().parts.values() if row.group}
    return (
        _first_cells("works.csv") + _rows([(word, "one of them") for word in judging().parts]) + _rows(groups.items())
    )


def _listing_fields(place: str) -> Names:
    from donorbase.services.source_fields import FIELDS

    return [(field, "") for field in FIELDS]


def _guide(place: str) -> Names:
    from donorbase.reference.guide import pages, terms

    return [(page.key, page.title) for page in pages()] + [(one.name, one.title) for one in terms()]


def _patterns(place: str) -> Names:
    return [(f"{family}/*", name) for family, name in _families(place)] + _variants(place)


SOURCES: Mapping[str, Source] = {
    "builds": _kept("builds"),
    "candidates": _kept("candidates"),
    "parts": _kept("parts"),
    "places": _kept("places"),
    "people": _kept("people"),
    "yards": _kept("yards"),
    "measured axles": _kept("measured_axles"),
    "own words": _kept("own_words"),
    "own patterns": _kept("own_patterns"),
    "families": _families,
    "variants": _variants,
    "axles": _all_of(_families, _variants),
    "catalogue": _all_of(_families, _variants, _gear_sets, _donor_lines),
    "gears": _all_of(_gear_sets, _variants),
    "candidates and axles": _all_of(_kept("candidates"), _families, _variants),
    "patterns": _patterns,
    "attributes": _attributes,
    "seen": _saw,
    "facts": _facts,
    "kinds": _kinds,
    "measures": _measures,
    "set-up": _setup_points,
    "under the vehicle": _under_the_vehicle,
    "papers": _papers,
    "care": _cares,
    "lockers": _lockers,
    "cuts": lambda place: [("standard", "of low pinions"), ("reverse", "of high pinions")],
    "schemas": _schemas,
    "priced": _priced,
    "guide": _guide,
    "fields": _listing_fields,
}
"""What can be proposed, by name."""


def known(what: str, place: str) -> Names:
    """The names of one of the ``SOURCES``, as they are typed, each with a few words on it or none.

    Names that hold signs which must not stand on a terminal are left out, since they could not be typed either.
    """
    return [(name, shown(about)) for name, about in SOURCES[what](place) if shown(name) == name and "\n" not in name]


def values_of(name: str) -> tuple[str, ...]:
    """The words that an attribute can have; empty of those that are numbers."""
    from donorbase.attributes import attribute, attributes

    return attribute(name).values if name in attributes() else ()
