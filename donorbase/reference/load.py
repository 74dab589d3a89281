"""``data/`` -> Catalogue, with every row checked and everything that is wrong shown at once."""

from functools import cache
from pathlib import Path

from donorbase.reference.catalogue import Catalogue, GearSet, Interchange, Variant, Work
from donorbase.reference.families import load_families
from donorbase.reference.rows import Faults, Row
from donorbase.reference.tables import (
    load_gear_sets,
    load_interchange,
    load_lines,
    load_sight_notes,
    load_wear,
    load_works,
)
from donorbase.shipped import data_dir, data_fingerprint

_RING_GEAR_SLACK_IN = 0.16
"""A gear set may be quoted by its round name; more than this apart is another size."""


@cache
def load_catalogue() -> Catalogue:
    """The shipped catalogue; raises BadData with every fault of its files, by file and line."""
    # Taken before the facts are read: facts that change meanwhile are then known as others at the next start.
    data_fingerprint()
    return load_from(data_dir())


def load_from(folder: Path) -> Catalogue:
    """The catalogue that lies in a folder of the shape of ``data/``."""
    faults = Faults()
    families, variants = load_families(folder / "families", faults)
    gear_sets = load_gear_sets(folder / "gearsets.csv", faults)
    works = load_works(folder / "works.csv", faults)
    lines = load_lines(folder / "lines.toml", faults)
    notes = load_sight_notes(folder / "lines.toml", faults)
    interchange = load_interchange(folder / "interchange.csv", faults)
    wear = load_wear(folder / "wear.csv", faults)
    for variant in variants.values():
        _check_gear_set(variant, gear_sets, faults)
    for row, line in interchange:
        _check_interchange(row, line, variants, works)
    faults.refuse("the facts in data/ do not pass their check", "Mend the lines named and run again.")
    return Catalogue(families, variants, gear_sets, tuple(line for _, line in interchange), wear, lines, works, notes)


def _check_gear_set(variant: Variant, gear_sets: dict[str, GearSet], faults: Faults) -> None:
    key = variant.get("gear_set")
    place = f"{variant.family.key}.toml, {variant.key.partition('/')[2]}"
    if key is None:
        return
    gear_set = gear_sets.get(str(key))
    if gear_set is None:
        faults.add(place, f"gear_set {key!r} is not in gearsets.csv")
        return
    if variant.family.position not in gear_set.position:
        faults.add(place, f"gear_set {key!r} is of a {gear_set.position} axle")
    ring = variant.get("ring_gear_in")
    if ring is not None and gear_set.ring_gear_in is not None:
        gap = abs(float(ring) - gear_set.ring_gear_in)  # type: ignore[arg-type]  # a length by its check
        if gap > _RING_GEAR_SLACK_IN:
            faults.add(place, f"ring_gear_in {ring} is not that of {key!r}, {gear_set.ring_gear_in}")


def _check_interchange(row: Row, line: Interchange, variants: dict[str, Variant], works: dict[str, Work]) -> None:
    if line.source and not any(line.applies_to(key) for key in variants):
        row.fault("from", f"{line.source!r} matches no variant")
    if line.kind == "fit" and line.target and not any(line.fits_onto(key) for key in variants):
        row.fault("to", f"{line.target!r} matches no variant")
    if line.work and line.work not in works:
        row.fault("work", f"{line.work!r} is not in works.csv")
