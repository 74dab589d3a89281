"""Whether a rule of a data file applies to an axle under a vehicle, and because of what."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from donorbase.attributes import Attribute, attribute
from donorbase.facts import Value
from donorbase.reference.conditions import Condition, meets
from donorbase.reference.when import When
from donorbase.reference.wording import plain_text, values_text
from donorbase.verdict.computed import tire_dia_in
from donorbase.verdict.lights import Chance, Light, light_of
from donorbase.verdict.parse_condition import parse_condition
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.signs import marks
from donorbase.verdict.spec import Build
from donorbase.verdict.subjects import VEHICLE


@dataclass(frozen=True, slots=True)
class Case:
    """One end of a build: the axle for it (None: not known which), work that counts, requirements that are open.

    ``maybe`` is work that will be done where it is needed.
    """

    end: str
    build: Build
    axle: Prospect | None
    work: frozenset[str]
    maybe: frozenset[str] = frozenset()
    findings: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Applies:
    """``go``: the rule applies; ``unclear``: it does unless what is not known says otherwise; ``stop``: it does not."""

    light: Light
    because: tuple[str, ...] = ()


_NOT = Applies(Light.STOP)
_ALWAYS = Applies(Light.GO)


def applies(whens: Iterable[When], case: Case) -> Applies:
    """The best of several conditions; without any, a rule applies always."""
    found = [_one(when, case) for when in whens]
    if not found:
        return _ALWAYS
    sure = next((a for a in found if a.light is Light.GO), None)
    return sure or next((a for a in found if a.light is Light.UNCLEAR), _NOT)


def _one(when: When, case: Case) -> Applies:
    if when.end and when.end != case.end:
        return _NOT
    parts = [_of_axle(condition, case) for condition in when.axle]
    parts += [_of_vehicle(name, raw, case.build) for name, raw in when.vehicle.items()]
    parts += [_of_work(when.work, case)] if when.work else []
    parts += [_of_findings(when.finding, case)] if when.finding else []
    parts += [_of_offer(when.hazard, case)] if when.hazard else []
    lights = {part.light for part in parts}
    light = Light.STOP if Light.STOP in lights else Light.UNCLEAR if Light.UNCLEAR in lights else Light.GO
    if when.known and light is Light.UNCLEAR:
        return _NOT
    return Applies(light, tuple(reason for part in parts for reason in part.because))


# ---------------------------------------------------------------- the axle


def _of_axle(condition: Condition, case: Case) -> Applies:
    subject = attribute(condition.attribute)
    if subject.scope == "axle" and case.end not in subject.ends:
        return _NOT
    if case.axle is None:
        return _unsaid_thing(condition, subject)
    stated = (case.axle.kind,) if subject.name == "kind" else case.axle.all(subject.name)
    if stated or subject.scope != "axle":
        because = f"{subject.title} {_values(subject, stated)}"
        return Applies(Light.GO, (because,)) if condition.allows(stated) else _NOT
    light = light_of(_by_kind(condition, case.axle), case.axle.rules.known)
    if light is Light.UNCLEAR:
        return Applies(light, (f"{subject.title} not known for sure",))
    best = case.axle.best_variant()
    had = _values(subject, best.all(subject.name) if best else ())
    return Applies(light, (f"{subject.title} {had}, by its kind",))


def _unsaid_thing(condition: Condition, subject: Attribute) -> Applies:
    """Of an axle that nobody named nothing is known; that somebody cut it up is not supposed, though."""
    if subject.scope != "axle":
        return _NOT
    return Applies(Light.UNCLEAR, (f"{subject.title} not known",))


def _values(subject: Attribute, values: tuple[Value, ...]) -> str:
    return values_text(subject.name, values)


def _by_kind(condition: Condition, axle: Prospect) -> Chance:
    holds = unknown = 0.0
    for world in axle.worlds():
        met = meets(condition, world.variant, axle.catalogue) if world.variant else None
        holds += world.weight * (met is True)
        unknown += world.weight * (met is None)
    return holds, unknown


# ---------------------------------------------------------------- the vehicle and the work


def _of_vehicle(name: str, raw: Any, build: Build) -> Applies:
    subject = VEHICLE[name]
    condition, value = parse_condition(raw, subject), vehicle_value(name, build)
    if value is None:
        return Applies(Light.UNCLEAR, (f"not said in the build: {name}",))
    if condition.share(value, subject) < 1:
        return _NOT
    return Applies(Light.GO, (f"your vehicle: {subject.title} {plain_text(value)}",))


def vehicle_value(name: str, build: Build) -> Value | None:
    """What a build says of its vehicle, None where it is silent; tires give their diameter.

    Leaf springs hold an axle sideways themselves, so that one without a word of a track bar has none (common
    practice).
    """
    if name == "tire_dia_in":
        return tire_dia_in(build)
    found: Value | None = getattr(build.vehicle, name)
    if name == "track_bar" and found is None and build.vehicle.suspension == "leaf":
        return False
    return found


def _of_work(words: tuple[str, ...], case: Case) -> Applies:
    if done := sorted(case.work & set(words)):
        return Applies(Light.GO, (f"work: {', '.join(done)}",))
    if perhaps := sorted(case.maybe & set(words)):
        return Applies(Light.UNCLEAR, (f"work that you accept: {', '.join(perhaps)}",))
    return _NOT


def _of_offer(names: tuple[str, ...], case: Case) -> Applies:
    if case.axle is None:
        return _NOT
    found = [(name, hazard) for name, hazard in marks(case.axle.reading, case.end, case.axle.rules) if name in names]
    return Applies(Light.GO, (found[0][1].says,)) if found else _NOT


def _of_findings(subjects: tuple[str, ...], case: Case) -> Applies:
    found = sorted(case.findings & set(subjects))
    return Applies(Light.GO, (f"open: {', '.join(found)}",)) if found else _NOT
