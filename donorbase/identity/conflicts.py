"""Facts that cannot be together: what, why probably, and what would tell."""

from collections.abc import Iterable, Sequence
from math import exp

from donorbase.attributes import attribute
from donorbase.facts import Fact, Known
from donorbase.identity.identification import Conflict, Identification
from donorbase.identity.model import Model, Weighed, event_of, model_of, sorted_facts
from donorbase.identity.possible import check_observations
from donorbase.identity.weighing import gathered
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.odds import Rates
from donorbase.reference.wording import value_text

_AGAINST = 0.12
"""A fact speaks against the likely candidates where on average it agrees with their figures less than
this."""
_SETTLED = 0.5
_LIKELY = 0.02
_EXPLAINS = 0.06
"""Without the fact that is to blame the other agrees with the kinds left at least this well."""


def conflicts(
    facts: Iterable[Fact],
    catalogue: Catalogue,
    identification: Identification,
    rates: Rates | None = None,
) -> tuple[Conflict, ...]:
    """What the facts say that cannot be together, the gravest first; empty where all of it agrees.

    Four kinds: an attribute told in two ways; a value that no hub or shaft has; a fact that none of the
    candidates which all other facts leave has; and facts that as a whole fit none of the catalogue's axles.
    """
    model, said = model_of(catalogue, rates), tuple(facts)
    usable, words = check_observations(said)
    found = [*_impossible(said, words), *_told_twice(model, usable)]
    found += _against_all(model, usable, identification)
    if not found and identification.none > 0.5:
        found.append(_nothing_like_it(usable))
    return tuple(found)


def _impossible(facts: Sequence[Fact], words: Sequence[str]) -> list[Conflict]:
    causes = ("miscounted or misread", "another unit was meant")
    found = []
    for word in words:
        names = tuple(f.attribute for f in facts if word.startswith(attribute(f.attribute).title))
        named = names or ("lugs", "bolt_circle_mm")
        found.append(Conflict(named[:2], word, causes, attribute(named[0]).how))
    return found


def _told_twice(model: Model, facts: Sequence[Fact]) -> list[Conflict]:
    found = []
    for name, group in sorted_facts(facts, model.traits).items():
        known = model.traits[name].attribute
        sets = gathered(group, known.many)
        values = list(dict.fromkeys(value_text(name, f.value) for alternatives in sets for f in alternatives))
        torn = any(f.known is Known.CONTRADICTED for f in group)
        if len(values) < 2 or (known.many and not torn):
            continue
        found.append(
            Conflict(
                (name,),
                f"{known.title}: said to be {' and '.join(values)}",
                ("one of the two is a slip", "they speak of two different axles or parts"),
                known.how or known.ask,
            )
        )
    return found


def _against_all(model: Model, facts: Sequence[Fact], identification: Identification) -> list[Conflict]:
    """Each fact that none of the candidates has whom the other facts leave."""
    weighed = model.weigh_all(facts)
    meant = [(model.place[c.variant], c.probability) for c in identification.candidates if c.variant]
    found = []
    for one in weighed:
        others = [other for other in weighed if other is not one]
        left = _left_by(model, others)
        if not left or len(others) < 2 or one.name == "position":
            continue
        # Rarity is no conflict: an axle that agrees with all that is said settles it.
        if _agreed(one, meant) > _SETTLED:
            continue
        agreed = _agreed(one, left)
        if agreed < _AGAINST and not _explained(one, left):
            found.append((agreed, _conflict(model, one, left, others)))
    return _without_echo([conflict for _, conflict in sorted(found, key=lambda pair: pair[0])])


def _without_echo(found: Sequence[Conflict]) -> list[Conflict]:
    """Two facts that exclude one another are one conflict, told from the side of the graver one."""
    kept: list[Conflict] = []
    for conflict in found:
        if not any(conflict.attributes[0] in other.attributes for other in kept):
            kept.append(conflict)
    return kept


def _agreed(one: Weighed, shares: Sequence[tuple[int, float]]) -> float:
    """How well the facts agree with the variants on the mean, 0 to 1."""
    total = sum(p for _, p in shares) or 1.0
    return sum(p * one.agreement(place) for place, p in shares) / total


def _left_by(model: Model, others: Sequence[Weighed]) -> list[tuple[int, float]]:
    """The variants that the other facts make likely, with their shares."""
    logs = list(model.log_prior)
    for other in others:
        logs = [total + step for total, step in zip(logs, other.logs, strict=True)]
    top = max(logs)
    raw = [(place, exp(value - top)) for place, value in enumerate(logs)]
    total = sum(p for _, p in raw)
    return [(place, p / total) for place, p in raw if p >= _LIKELY * total]


def _explained(one: Weighed, left: Sequence[tuple[int, float]]) -> bool:
    """Whether the figure is blank for the likely kinds, or owners change it so often that it says little."""
    unknown = sum(p for place, p in left if not one.trait.known[place])
    return unknown > 0.5 or one.trait.attribute.changed > 0.1


def _conflict(model: Model, one: Weighed, left: Sequence[tuple[int, float]], others: Sequence[Weighed]) -> Conflict:
    known = one.trait.attribute
    said = " or ".join(dict.fromkeys(value_text(known.name, f.value) for f in one.facts))
    has = dict.fromkeys(
        value_text(known.name, value)
        for place, _ in sorted(left, key=lambda pair: -pair[1])[:4]
        for value in model.catalogue.variants[model.keys[place]].all(known.name)
        if value_text(known.name, value) not in said
    )
    beside = _blamed(model, one, others, _agreed(one, left))
    rest = _titles(beside) if beside else "the other facts"
    left_with = " or ".join(has) or "none of it"
    among = f"of the kinds that agree with {rest} hardly any has that"
    what = f"says {known.title} {said}; {among}: they have {left_with}"
    dated = "years" in {other.name for other in others} and "years" not in beside
    return Conflict((known.name, *beside), what, _causes(one, beside, dated), _tell(one, beside))


def _blamed(model: Model, one: Weighed, others: Sequence[Weighed], agreed: float) -> list[str]:
    """The (two at most) facts but for which this one would agree well enough, the best explanation first."""
    found = []
    for other in others:
        without = _left_by(model, [o for o in others if o is not other])
        better = _agreed(one, without)
        if better > max(_EXPLAINS, 2.0 * agreed):
            found.append((better, other.name))
    return [name for _, name in sorted(found, reverse=True)[:2]]


def _titles(names: Sequence[str]) -> str:
    return " and ".join(attribute(name).title for name in names)


def _causes(one: Weighed, beside: Sequence[str], dated: bool) -> tuple[str, ...]:
    """Likely causes, the likeliest first by the rates of error."""
    known = one.trait.attribute
    measured = all(f.known is Known.MEASURED for f in one.facts)
    found = [(0.01, "it is another axle than any in the catalogue")]
    if measured:
        found.append((known.miscount or 0.01, f"{known.title} was measured wrong"))
    else:
        found.append((known.seller_error, f"{known.title} was said wrong"))
    if known.changed:
        found.append((known.changed, f"an owner has changed it: {known.title} is not the factory's"))
    found += [(attribute(name).seller_error, f"{attribute(name).title} is wrong") for name in beside]
    if dated:
        # Alone it does not explain it, but a wrong year comes with other wrong words of the truck.
        years = attribute("years")
        found.append((years.seller_error / 3, f"{years.title} is wrong"))
    if event_of(known.name) == "donor":
        found.append((known.seller_error / 2, "it came from another truck than the one named"))
    return tuple(cause for _, cause in sorted(found, key=lambda pair: -pair[0]))


def _tell(one: Weighed, beside: Sequence[str]) -> str:
    known = one.trait.attribute
    steps = [known.how or known.ask]
    steps += [attribute(name).how for name in beside[:1] if attribute(name).how]
    return " ".join(step for step in steps if step)


def _nothing_like_it(facts: Sequence[Fact]) -> Conflict:
    names = tuple(dict.fromkeys(f.attribute for f in facts))
    return Conflict(
        names[:3],
        "taken together the facts fit none of the axles known",
        ("it is an axle that the catalogue does not hold", "several of the facts are wrong"),
        attribute("ring_gear_in").how + " " + attribute("bolt_circle_mm").how,
    )
