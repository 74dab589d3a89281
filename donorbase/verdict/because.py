"""Why a requirement is met, is not, or is not known: a sentence that a person of the trade would say."""

from donorbase.facts import Value
from donorbase.identity.identification import Belief
from donorbase.reference.catalogue import Variant
from donorbase.reference.wording import plain_text
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import Build, Requirement
from donorbase.verdict.subjects import subject_of
from donorbase.verdict.verdicts import State
from donorbase.verdict.weigh import absent, names_of, struck

UNSAID = "no word of"
"""How a reason begins that rests on silence alone."""


def because(requirement: Requirement, prospect: Prospect, state: State, chance: float, build: Build) -> str:
    """The reason for a state, with figures and their basis."""
    special = _SPECIAL.get(requirement.subject)
    said = special(requirement, prospect, state, build) if special else _attribute(requirement, prospect, state)
    if state is not State.MEETS and requirement.computed and requirement.subject not in _PLAIN:
        said += f" ({requirement.computed})"
    return said


def _attribute(requirement: Requirement, prospect: Prospect, state: State) -> str:
    subject = subject_of(requirement.subject)
    title, stated = subject.title, prospect.all(subject.name)
    asks = f"the build asks {requirement.condition.words(unit=_unit(subject.unit))}"
    if prospect.contradicted(subject.name):
        return f"{title}: the text says {_either(stated, subject.unit)}; {asks}"
    if stated and state is State.UNKNOWN:
        but = _doubt(prospect, subject.name)
        return f"{title}: {_either(stated, subject.unit)} by the seller, but {but}; {asks}"
    if stated:
        end = "" if state is State.MEETS else f"; {asks}"
        return f"{title}: {_either(stated, subject.unit)}, as stated{end}"
    belief = prospect.overall(subject.name)
    if state is State.UNKNOWN:
        return f"{title}: not said; {_spread(belief, subject.unit)}; {asks}"
    by_kind = f"{title}: {plain_text(belief.best, _unit(subject.unit)) if belief.best is not None else 'not known'}"
    end = "" if state is State.MEETS else f"; {asks}"
    return f"{by_kind} for {_kind(prospect, subject.name)}{end}"


def _unit(unit: str) -> str:
    return unit


def _either(values: tuple[Value, ...], unit: str) -> str:
    return " and ".join(dict.fromkeys(plain_text(value, unit) for value in values))


def _spread(belief: Belief, unit: str) -> str:
    likely = [(value, p) for value, p in belief.weights[:3] if p >= 0.02]
    if not likely:
        return "nothing on record settles it"
    words = " or ".join(f"{plain_text(value, unit)} ({p:.0%})" for value, p in likely)
    return f"it may be {words}"


def _doubt(prospect: Prospect, name: str) -> str:
    if not prospect.plainly(name):
        return "not for certain"
    if by_years := prospect.by_the_years():
        usual = prospect.silent_on(name).belief(name, by_years).best
        had = plain_text(usual, subject_of(name).unit) if usual is not None else "another"
        return f"axles of the stated years have {had}"
    silent = prospect.silent_on(name)
    usual = silent.overall(name).best
    if usual is None:
        return "the rest of the advert does not bear it out"
    return f"{plain_text(usual, subject_of(name).unit)} is usual for {_kind(silent, name)}"


def _kind(prospect: Prospect, name: str) -> str:
    """The likeliest kind with the basis of its figure; which kind that is, the verdict says once."""
    variant = prospect.best_variant()
    found = variant.figures.get(name) if variant else None
    return f"its kind ({found.basis})" if found else "its kind"


def kind_words(variant: Variant) -> str:
    """A variant in words: family, years and what is seen of it."""
    years = variant.get("years")
    when = f" of {plain_text(years)}" if isinstance(years, tuple) else ""
    return f"{variant.family.name}{when} ({variant.title})"


def _position(requirement: Requirement, prospect: Prospect, state: State, build: Build) -> str:
    stated = prospect.all("position")
    if state is State.MEETS and stated:
        return f"a {stated[0]}"
    if state is State.FAILS and stated:
        return f"a {stated[0]} is on offer; the build wants a {requirement.condition.words()}"
    return "whether it is a front or a rear is not said"


def _price(requirement: Requirement, prospect: Prospect, state: State, build: Build) -> str:
    price = next(iter(prospect.all("price_usd")), prospect.reading.get("price_usd"))
    if price is None:
        return "no price is named"
    return f"{plain_text(price)} is asked; the build would have {requirement.condition.words()}"


def _offer(requirement: Requirement, prospect: Prospect, state: State, build: Build) -> str:
    offer = prospect.reading.get("offer") or "for-sale"
    said = {
        "wanted": "this is a wanted advertisement: nothing is on offer",
        "sold": "it is sold",
        "trade": "it is offered in trade only, not for money",
    }
    return said.get(str(offer), "it is for sale")


def _thing(requirement: Requirement, prospect: Prospect, state: State, build: Build) -> str:
    words = {
        "housing": "a bare housing",
        "vehicle": "a whole vehicle",
        "part": "a part",
        "axle": "an assembled axle",
    }
    what = words.get(prospect.kind, prospect.kind)
    return what if state is State.MEETS else f"{what} is on offer; the build asks {requirement.condition.words()}"


def _missing(requirement: Requirement, prospect: Prospect, state: State, build: Build) -> str:
    gone = [part for part in absent(prospect) if names_of(part, prospect) & requirement.condition.forbids]
    return f"missing: {', '.join(gone)}" if gone else "nothing that is asked for is said to be missing"


def _defects(requirement: Requirement, prospect: Prospect, state: State, build: Build) -> str:
    condition = requirement.condition
    named = condition.forbids | {v for test in condition.tests for v in test.values}
    if bad := sorted({str(v) for v in prospect.all("defects") if v in named}):
        return f"{' and '.join(bad)}, as stated"
    if struck(prospect):
        return "the donor was struck or rolled, and whether the axle is bent is not said"
    return f"{UNSAID} {' or '.join(sorted(str(v).replace('-', ' ') for v in named))}"


def _ratio_sold(requirement: Requirement, prospect: Prospect, state: State, build: Build) -> str:
    wanted = requirement.condition.words()
    variant = prospect.best_variant()
    gear_set = prospect.gear_set(variant)
    if state is State.UNKNOWN or gear_set is None or variant is None:
        return f"whether a {wanted} set is sold depends on the generation of the gears, and that is not settled"
    if state is State.MEETS:
        return f"{wanted} is sold for its kind ({gear_set.basis})"
    deepest = f"the deepest is {gear_set.deepest} ({gear_set.basis})"
    return f"{wanted} is not sold for its kind; {deepest}"


def _brake_fluid(requirement: Requirement, prospect: Prospect, state: State, build: Build) -> str:
    pistons = prospect.overall("caliper_pistons").best
    count = (
        f"{plain_text(pistons)}-piston calipers" if pistons is not None else "calipers of an unknown number of pistons"
    )
    master = build.vehicle.master_cylinder or "of a size not given"
    if state is State.MEETS:
        return f"the master cylinder ({master}) feeds its {count}"
    return f"its {count} want a larger master cylinder, and usually booster; the vehicle's is {master}"


def _donor(requirement: Requirement, prospect: Prospect, state: State, build: Build) -> str:
    if state is State.MEETS:
        return "a solid axle"
    refused = [w.variant.family for w in prospect.worlds() if w.variant and not w.variant.family.donor_ok]
    none = next(f for f in prospect.catalogue.families.values() if not f.donor_ok)
    reason = refused[0].refuse_reason if refused else none.refuse_reason
    return reason if state is State.FAILS else f"it may be no solid axle: {reason}"


_PLAIN = frozenset({"offer", "kind", "position", "donor"})
"""What needs no word on why it is asked."""

_SPECIAL = {
    "offer": _offer,
    "position": _position,
    "price_usd": _price,
    "kind": _thing,
    "missing": _missing,
    "defects": _defects,
    "ratio_sold": _ratio_sold,
    "brake_fluid_enough": _brake_fluid,
    "donor": _donor,
}
