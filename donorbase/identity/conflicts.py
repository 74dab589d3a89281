"""Facts that cannot be together: what, why probably, and what would tell."""

from collections.abc import Iterable, Sequence
from math import exp

from donorbase.attributes import attribute
from donorbase.facts import Fact, Known
from donorbase.identity.identification import Conflict, Identification
from donorbase.identity.identify import plain
from donorbase.identity.model import Model, Weighed, event_of, model_of, sorted_facts
from donorbase.identity.possible import check_observations
from donorbase.identity.weighing import gathered
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.odds import Rates

_AGAINST = 0.12
"""A fact speaks against the likely candidates where on average it agrees with their figures less than
this."""
_LIKELY = 0.02
_OF_ITS_KIND = 0.2
"""A value counts as a variant's own where it is at least this often made as its commonest."""
_DONOR = ("years", "donor_line", "load_class", "rear_wheels")


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
        values = list(dict.fromkeys(plain(f.value) for alternatives in sets for f in alternatives))
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
    found = []
    for one in weighed:
        others = [other for other in weighed if other is not one]
        left = _left_by(model, others)
        if not left or len(others) < 2 or one.name == "position":
            continue
        agreed = sum(p * _agreement(model, one, place) for place, p in left)
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


def _agreement(model: Model, one: Weighed, place: int) -> float:
    """How well the facts agree with any value that the variant was made with, 1 for one they name."""
    made, said = one.trait.vectors[one.trait.factory[place]], one.by_value[model.end[place]]
    share = max(made) * _OF_ITS_KIND
    return max(s for m, s in zip(made, said, strict=True) if m >= share) / max(said)


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


def _conflict(
    model: Model, one: Weighed, left: Sequence[tuple[int, float]], others: Sequence[Weighed]
) -> Conflict:
    known = one.trait.attribute
    said = " or ".join(dict.fromkeys(plain(f.value) for f in one.facts))
    has = dict.fromkeys(
        plain(value)
        for place, _ in sorted(left, key=lambda pair: -pair[1])[:4]
        for value in model.catalogue.variants[model.keys[place]].all(known.name)
        if plain(value) not in said
    )
    told = {other.name for other in others}
    beside = [name for name in _DONOR if name in told]
    rest = _titles(beside[:2]) if beside else "the other facts"
    left_with = " or ".join(has) or "none of it"
    among = f"of the kinds that agree with {rest} hardly any has that"
    what = f"says {known.title} {said}; {among}: they have {left_with}"
    return Conflict((known.name, *beside[:2]), what, _causes(one, beside), _tell(one, beside))


def _titles(names: Sequence[str]) -> str:
    return " and ".join(attribute(name).title for name in names)


def _causes(one: Weighed, beside: Sequence[str]) -> tuple[str, ...]:
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
    if known.name not in _DONOR:
        found += [(attribute(name).seller_error, f"{attribute(name).title} is wrong") for name in beside]
    elif event_of(known.name) == "donor":
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
