"""The axle that somebody has before him: named, read from its advert, or told by what was measured of it."""

from collections.abc import Mapping
from typing import Any

from donorbase.errors import BadInput
from donorbase.facts import Fact, Item, Known, Reading
from donorbase.identity.identification import Candidate, Identification
from donorbase.identity.observations import observe
from donorbase.reference.catalogue import Variant
from donorbase.reference.judging import judging
from donorbase.services.desk import Desk
from donorbase.services.show import existing_key
from donorbase.verdict.prospect import Prospect, at_his_word, prospects_of

_DONORS = ("axle", "housing", "vehicle")


def axles_at_hand(
    desk: Desk, variant: str = "", text: str = "", saw: Mapping[str, Any] | None = None, end: str = ""
) -> tuple[Prospect, ...]:
    """The axles told of, fronts first: one of a variant's key or of measurements, each of an advert's.

    ``saw`` is in the words of ``identify``, and overrules key and advert. ``end`` keeps one end alone. NotFound for
    a mistyped key; BadInput where nothing is told, a measurement cannot be used, or no axle is on offer.
    """
    facts = _measured(saw or {})
    if variant:
        found = [_of_variant(desk, _variant(desk, variant), facts)]
    elif text:
        found = _of_text(desk, text, facts)
    elif facts:
        found = prospects_of(0, Item(facts), _offer(facts), desk.catalogue, judging(), desk.rates)
    else:
        raise BadInput("no axle was named", "Name a variant, an advert, or what was measured: --saw lugs=8.")
    kept = [axle for axle in found if not end or axle.end == end]
    if not kept:
        raise BadInput(f"there is no {end or 'axle'} in what was given", "Name another one, or leave the end open.")
    return tuple(sorted(kept, key=lambda axle: axle.end))


def the_axle(
    desk: Desk, variant: str = "", text: str = "", saw: Mapping[str, Any] | None = None, end: str = ""
) -> Prospect:
    """As ``axles_at_hand``, where it must be one: BadInput asks which end where there are several."""
    found = axles_at_hand(desk, variant, text, saw, end)
    if len(found) > 1:
        ends = " and ".join(f"a {axle.end}" for axle in found)
        raise BadInput(f"it may be several axles: {ends}", "Say which: --end front or --end rear.")
    return found[0]


def _measured(saw: Mapping[str, Any]) -> tuple[Fact, ...]:
    observed = observe(saw)
    if observed.faults:
        raise BadInput("; ".join(observed.faults), "`donorbase identify --names` lists what can be given.")
    return tuple(observed.facts)


def _variant(desk: Desk, key: str) -> Variant:
    found = existing_key(key, desk.catalogue)
    if found not in desk.catalogue.variants:
        keys = [k for k, v in desk.catalogue.variants.items() if v.family.key == found]
        named = f"Name one of: {', '.join(keys[:6])}." if keys else "`donorbase find` lists the variants."
        raise BadInput(f"{found} is no single kind of axle", named)
    return desk.catalogue.variants[found]


def _of_variant(desk: Desk, variant: Variant, facts: tuple[Fact, ...]) -> Prospect:
    """The axle as that variant and no other; its owner may have changed what owners change."""
    told = (Fact("position", variant.family.position, Known.MEASURED), *facts)
    sure = Identification((Candidate(variant.key, 1.0),))
    rules = judging()
    return Prospect(
        0, variant.family.position, "axle", told, _offer(told), sure, desk.catalogue, rules,
        at_his_word(desk.rates, rules), desk.rates, sure,
    )  # fmt: skip


def _of_text(desk: Desk, text: str, facts: tuple[Fact, ...]) -> list[Prospect]:
    reading = desk.read(text)
    names = {fact.attribute for fact in facts}
    return [
        prospect
        for number, item in enumerate(reading.items)
        if str(item.get("kind") or "axle") in _DONORS
        for prospect in prospects_of(
            number, Item((*item.without(*names).facts, *facts)), reading, desk.catalogue, judging(), desk.rates
        )
    ]


def _offer(facts: tuple[Fact, ...]) -> Reading:
    return Reading("", (Fact("offer", "for-sale"),), (Item(facts),))
