"""The whole axles of the shelf that a build can have, weighed for it as its candidates are."""

from dataclasses import dataclass, replace

from donorbase.facts import Fact, Known
from donorbase.reference.parts import WHOLE
from donorbase.reference.shelf_words import FREE
from donorbase.services.axle_at_hand import the_axle
from donorbase.services.builds import find_build
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.remembering import what_stands
from donorbase.services.shelf import Part, parts
from donorbase.verdict.axle import Weighed, weigh_axle


@dataclass(frozen=True, slots=True)
class Owned:
    """A whole axle of the shelf, weighed for a build."""

    part: Part
    axle: Weighed


def owned_axles(house: House, desk: Desk, build_name: str) -> tuple[Owned, ...]:
    """The axles of the shelf that are free or reserved for the build, by number; what was measured of them counts.

    They are paid for and need no drive. An axle of which only the family is told, or nothing, is left out: it cannot
    be weighed before it is known which it is.
    """
    build = find_build(house, build_name)
    ours = [
        part
        for part in parts(house, kinds=[WHOLE], states=[FREE, "reserved"])
        if part.axle in desk.catalogue.variants and (part.state == FREE or part.build == build_name)
    ]
    found = []
    for part in ours:
        with house.reading() as connection:
            saw = what_stands(connection, part, "fact")
        told = the_axle(desk, variant=part.axle or "", saw=saw)
        paid = replace(told, facts=(*told.facts, Fact("price_usd", 0.0, Known.MEASURED)))
        found.append(Owned(part, weigh_axle(paid, build, 0.0)))
    return tuple(found)
