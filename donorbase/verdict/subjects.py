"""What can stand in a requirement: every attribute, and what follows from several of them.

The latter are defined here in the same form, so that conditions on them are read and said alike.
"""

from dataclasses import fields
from difflib import get_close_matches

from donorbase.attributes import Attribute, Kind, attribute, attributes
from donorbase.verdict.spec import Vehicle

DERIVED = {
    a.name: a
    for a in (
        Attribute(
            "ratio_sold", "ratio that a set is made for", "derived", Kind.RATIO, low=1.5, high=13,
            ask="What model year is the truck it came from? It decides which gear sets go in.",
        ),
        Attribute(
            "donor", "solid axle worth having", "derived", Kind.FLAG,
            ask="A photo from the front: one solid tube from wheel to wheel, or booted shafts and arms?",
        ),
        Attribute(
            "brake_fluid_enough", "master cylinder against its calipers", "derived", Kind.FLAG,
            ask="How many pistons in each caliper, and of what diameter?",
        ),
    )
}  # fmt: skip
"""Of one axle."""

PAIR = {
    a.name: a
    for a in (
        Attribute(
            "ratio_mismatch_pct", "front against rear ratio", "pair", Kind.LENGTH, low=0, high=100,
            ask="Which ratio has each axle, and is that from tags, counted teeth or turning?",
        ),
        Attribute(
            "bolt_circle_same", "same bolt circle front and rear", "pair", Kind.FLAG,
            ask="Opposite wheel studs, centre to centre, on each axle?",
        ),
        Attribute(
            "width_diff_in", "width front against rear", "pair", Kind.LENGTH, low=0, high=60,
            ask="Wheel face to wheel face, each axle, to the quarter inch?",
        ),
    )
}  # fmt: skip
"""Of a front and a rear together."""


def _of_vehicle(name: str, kind: Kind = Kind.LENGTH, values: tuple[str, ...] = ()) -> Attribute:
    return Attribute(name, name.replace("_", " "), "vehicle", kind, values=values, low=0.01, high=1e6)


VEHICLE = {
    a.name: a
    for a in (
        *(_of_vehicle(f.name) for f in fields(Vehicle)),
        _of_vehicle("front_output", Kind.CHOICE, ("driver", "passenger", "center")),
        _of_vehicle("suspension", Kind.CHOICE, ("leaf", "coil", "link")),
        _of_vehicle("track_bar", Kind.FLAG),
        _of_vehicle("steering", Kind.CHOICE, ("crossover", "push-pull", "full-hydraulic")),
        _of_vehicle("steering_assist", Kind.CHOICE, ("hydraulic", "none")),
        _of_vehicle("road_use", Kind.FLAG),
        _of_vehicle("master_cylinder", Kind.CHOICE, ("enlarged", "original")),
    )
}
"""Of the vehicle that an axle goes under, in the form of attributes: units stand in the names."""


def subject_of(name: str) -> Attribute:
    """The attribute or derived subject of that name; KeyError where there is none."""
    return DERIVED.get(name) or PAIR.get(name) or attribute(name)


def title_of(name: str) -> str:
    """What a question is about, in words: a subject's title, or the name of a mark of the offer."""
    known = DERIVED.get(name) or PAIR.get(name) or attributes().get(name)
    return known.title if known else name.replace("-", " ")


def find_subject(name: str, *, pair: bool) -> Attribute | None:
    """What a requirement of a build file speaks of, None where nothing is called so."""
    if pair:
        return PAIR.get(name)
    if name in PAIR:
        return None
    try:
        return subject_of(name)
    except KeyError:
        return None


def near_names(name: str, known: list[str]) -> str:
    """A clause with the names that were probably meant: ``; meant: lugs?``, empty where none is near."""
    near = get_close_matches(name, known, n=3, cutoff=0.6)
    return f"; meant: {', '.join(near)}?" if near else ""


def requirement_names(*, pair: bool) -> list[str]:
    """All names that a requirement can have."""
    return list(PAIR) if pair else [*attributes(), *DERIVED]
