"""A build: the vehicle that the axles go under, what it asks of them, the work its owner will do, his
money.
"""

from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, field
from enum import StrEnum
from typing import Any

from donorbase.verdict.condition import Condition

ENDS = ("front", "rear")


class Level(StrEnum):
    """How much a requirement matters."""

    MUST = "must"
    PREFER = "prefer"
    AVOID = "avoid"


@dataclass(frozen=True, slots=True)
class Requirement:
    """A subject (an attribute, or what follows from several), a condition on it, and how much it matters.

    ``computed`` is the sum that a requirement drawn from the vehicle comes from; empty for the owner's own. A
    ``soft`` one counts where it fails, and where it is not known it is no more than a question.
    """

    subject: str
    condition: Condition
    level: Level = Level.MUST
    computed: str = ""
    soft: bool = False


@dataclass(frozen=True, slots=True)
class Vehicle:
    """What is known of the vehicle; units stand in the names, None where it is not known."""

    tires: str | None = None
    tire_dia_in: float | None = None
    wheel_dia_in: float | None = None
    wheel_width_in: float | None = None
    backspacing_in: float | None = None
    front_output: str | None = None
    suspension: str | None = None
    track_bar: bool | None = None
    steering: str | None = None
    steering_assist: str | None = None
    road_use: bool | None = None
    master_cylinder: str | None = None
    master_cylinder_bore_in: float | None = None
    master_cylinder_stroke_in: float | None = None
    pedal_ratio: float | None = None
    booster_lb: float | None = None
    engine_torque_lbft: float | None = None
    first_gear: float | None = None
    low_range: float | None = None
    top_gear: float | None = None
    front_load_lb: float | None = None
    rear_load_lb: float | None = None
    cruise_mph: float | None = None
    cruise_rpm: float | None = None
    track_limit_in: float | None = None


@dataclass(frozen=True, slots=True)
class Work:
    """Words of work: done anyway, will be done at a price, never; and the owner's own prices in USD."""

    planned: tuple[str, ...] = ()
    accepted: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    price_usd: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Yard:
    """What a pull-your-own yard asks beside the price; ``core_return``: the chance, 0 to 1, of the core coming back."""

    half_price_day: bool = False
    core_usd: float | None = None
    entry_usd: float | None = None
    core_return: float | None = None


@dataclass(frozen=True, slots=True)
class Money:
    """The limit for the axle landed and made good, in USD, and what the sum needs."""

    landed_limit_usd: float | None = None
    travel_usd_per_mi: float | None = None
    part_price_usd: Mapping[str, float] = field(default_factory=dict)
    yard: Yard | None = None
    tax_pct: float | None = None
    hour_usd: float | None = None


@dataclass(frozen=True, slots=True)
class Build:
    """A build as its owner wrote it. ``requirements`` has the keys front, rear, any and pair.

    ``has`` gives, for an end that is there already, its attributes. ``computed`` false leaves out what
    follows from the vehicle.
    """

    name: str
    wants: tuple[str, ...]
    vehicle: Vehicle = Vehicle()
    ratio: float | None = None
    requirements: Mapping[str, tuple[Requirement, ...]] = field(default_factory=dict)
    has: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    work: Work = Work()
    money: Money = Money()
    computed: bool = True

    def of_end(self, end: str) -> tuple[Requirement, ...]:
        """The owner's requirements of one end, those of ``any`` among them where the end says nothing
        else.
        """
        own = self.requirements.get(end, ())
        said = {(r.subject, r.level) for r in own}
        shared = (r for r in self.requirements.get("any", ()) if (r.subject, r.level) not in said)
        return (*own, *shared)

    def of_pair(self) -> tuple[Requirement, ...]:
        """The requirements of front and rear together."""
        return self.requirements.get("pair", ())

    def as_json(self) -> dict[str, Any]:
        """The build in the form of a build file, as plain data; ``parse_build`` reads it back."""
        found: dict[str, Any] = {"name": self.name, "wants": list(self.wants)}
        found |= _kept({"computed": None if self.computed else False})
        found |= _kept({"vehicle": _kept(asdict(self.vehicle)), "gearing": _kept({"ratio": self.ratio})})
        for end in (*ENDS, "any", "pair"):
            found |= _kept({end: self._end_json(end)})
        return found | _kept({"work": _work_json(self.work), "money": _money_json(self.money)})

    def _end_json(self, end: str) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for level in Level:
            rows = [r for r in self.requirements.get(end, ()) if r.level is level]
            found |= _kept({str(level): {r.subject: r.condition.plain() for r in rows}})
        return found | _kept({"has": dict(self.has.get(end, {}))})

    def as_toml(self) -> str:
        """The build as a build file; ``read_build`` reads it back."""
        plain = self.as_json()
        top = [f"{key} = {_toml(value)}" for key, value in plain.items() if not isinstance(value, dict)]
        tables = [line for key, value in plain.items() if isinstance(value, dict) for line in _table(key, value)]
        return "\n".join([*top, *tables]) + "\n"


def _kept(fields: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in fields.items() if value is not None and value not in ({}, [])}


def _work_json(work: Work) -> dict[str, Any]:
    words = {key: list(getattr(work, key)) for key in ("planned", "accepted", "refused")}
    return _kept({**words, "price_usd": dict(work.price_usd)})


def _money_json(money: Money) -> dict[str, Any]:
    fields = {**asdict(money), "part_price_usd": dict(money.part_price_usd)}
    if money.yard:
        yard = _kept(asdict(money.yard))
        fields["yard"] = yard if money.yard.half_price_day else {k: yard[k] for k in yard if k != "half_price_day"}
    return _kept(fields)


_TABLES = {"must", "prefer", "avoid", "has", "price_usd", "part_price_usd", "yard"}


def _table(name: str, fields: Mapping[str, Any]) -> Iterator[str]:
    own = {key: value for key, value in fields.items() if key not in _TABLES}
    yield ""
    if own or not fields:
        yield f"[{name}]"
        yield from (f"{key} = {_toml(value)}" for key, value in own.items())
    for key in fields:
        if key in _TABLES:
            yield from _table(f"{name}.{key}", fields[key])


def _toml(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return '"' + _escaped(value) + '"'
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{key} = {_toml(inner)}" for key, inner in value.items()) + " }"
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(_toml(inner) for inner in value) + "]"
    return repr(value)


def _escaped(text: str) -> str:
    plain = text.replace("\\", "\\\\").replace('"', '\\"')
    return "".join(
        c if c.isprintable() else f"\\u{ord(c):04X}" if ord(c) < 0x10000 else f"\\U{ord(c):08X}" for c in plain
    )
