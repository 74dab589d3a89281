"""What judging gives back: states of requirements, work, money, and the verdict of an axle and of an
offer.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from donorbase.identity.identification import Identification
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import Level, Requirement
from donorbase.verdict.sums import NOTHING, Cost, Landed, Line, total_of

__all__ = [
    "NOTHING",
    "Asked",
    "Asking",
    "Call",
    "Cost",
    "Finding",
    "ItemVerdict",
    "Landed",
    "Line",
    "ListingVerdict",
    "State",
    "Task",
    "total_of",
]


class State(StrEnum):
    """Whether a requirement is met. ``unknown``: its chance lies between the limits of knowing."""

    MEETS = "meets"
    FAILS = "fails"
    UNKNOWN = "unknown"


class Call(StrEnum):
    """The verdict, best first."""

    FITS = "fits"
    WITH_WORK = "fits with work"
    UNCLEAR = "unclear"
    NO = "does not fit"

    @property
    def rank(self) -> int:
        """0 for the best."""
        return list(Call).index(self)


@dataclass(frozen=True, slots=True)
class Task:
    """A word of work that this axle needs: what for, its price (nothing where it is planned anyway) and
    hours.
    """

    word: str
    title: str
    because: str
    planned: bool
    cost: Cost
    labor_h: tuple[float, float] | None
    source: str

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        hours = list(self.labor_h) if self.labor_h else None
        return {
            "work": self.word, "title": self.title, "because": self.because, "planned": self.planned,
            "cost_usd": self.cost.as_json(), "labor_h": hours, "source": self.source,
        }  # fmt: skip


@dataclass(frozen=True, slots=True)
class Finding:
    """One requirement as judged.

    ``chance`` is that of its being met by the axle as it is; ``cured_by`` the word of work that makes a bad
    answer good (``planned`` or counted), empty where none does.
    """

    requirement: Requirement
    end: str
    state: State
    chance: float
    because: str
    cured_by: str = ""
    cure_planned: bool = False
    inferred: bool = False
    """Whether nobody stated it: it is drawn from the kind of axle."""

    @property
    def failed(self) -> bool:
        """A must that fails and stays so."""
        return self.state is State.FAILS and not self.cured_by

    @property
    def open(self) -> bool:
        """A must that is not known and whose bad answer no counted work makes good."""
        return self.state is State.UNKNOWN and not self.cured_by

    @property
    def needs_work(self) -> bool:
        """A must that is met through work which was not planned anyway."""
        return self.state is State.FAILS and bool(self.cured_by) and not self.cure_planned

    def as_json(self) -> dict[str, Any]:
        """``{requirement, level, state, chance, because}`` and, where there is one, ``cured_by``."""
        found = {
            "requirement": f"{self.end}.{self.requirement.subject}", "level": str(self.requirement.level),
            "asks": self.requirement.condition.plain(), "state": str(self.state),
            "chance": round(self.chance, 3), "because": self.because,
        }  # fmt: skip
        if self.cured_by:
            found["cured_by"] = self.cured_by
        if self.requirement.computed:
            found["computed"] = self.requirement.computed
        return found


@dataclass(frozen=True, slots=True)
class Asked:
    """A question to the seller; ``weight`` is how much its answer is expected to move the verdict, 0 to 1."""

    subject: str
    ask: str
    how: str
    weight: float

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {"about": self.subject, "ask": self.ask, "how": self.how, "weight": round(self.weight, 3)}


Asking = Callable[[], tuple[Asked, ...]]
"""Questions that are worked out on demand, once."""


@dataclass(frozen=True, slots=True)
class ItemVerdict:
    """One thing on offer judged for one end. ``item`` counts from 0 in the reading; ``identification`` comes without
    its evidence, which ``identify`` gives.
    """

    item: int
    end: str
    identification: Identification
    verdict: Call
    chance: float
    findings: tuple[Finding, ...]
    asking: Asking = field(compare=False, repr=False)
    work: tuple[Task, ...]
    money: Landed
    notes: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    taken_for: str = ""
    """What it probably is, in words; the reasons call that "its kind"."""
    prospect: Prospect | None = field(default=None, compare=False, repr=False)
    """The axle that was judged, for sums that go on from the verdict."""

    @property
    def questions(self) -> tuple[Asked, ...]:
        """What to ask, found when it is first asked for: each question tries out its answers."""
        return self.asking()

    def as_json(self) -> dict[str, Any]:
        """The form that ``check --json`` adds to an item."""
        return {
            "item": self.item, "end": self.end, "identification": self.identification.as_json(),
            "verdict": str(self.verdict), "chance": round(self.chance, 3),
            "reasons": [finding.as_json() for finding in self.findings],
            "questions": [asked.as_json() for asked in self.questions],
            "work": [task.as_json() for task in self.work],
            "cost_usd": self.money.total.as_json() if self.money.total else None,
            "break_even_usd": self.money.break_even_usd,
            "hazards": list(self.hazards), "notes": list(self.notes), "taken_for": self.taken_for,
        }  # fmt: skip


@dataclass(frozen=True, slots=True)
class ListingVerdict:
    """The offer as a whole: the best usable thing in it, or the pair where the build wants both ends."""

    items: tuple[ItemVerdict, ...]
    verdict: Call
    chance: float
    reasons: tuple[str, ...]
    asking: Asking = field(compare=False, repr=False)
    work: tuple[Task, ...]
    money: Landed
    chosen: tuple[int, ...] = ()
    """Which of ``items`` the verdict speaks of; empty where nothing on offer can be used."""
    pair: tuple[Finding, ...] = field(default=())
    notes: tuple[str, ...] = ()

    @property
    def questions(self) -> tuple[Asked, ...]:
        """What to ask, found when it is first asked for."""
        return self.asking()

    @property
    def money_alone(self) -> bool:
        """Whether it does not fit for its price and for nothing else."""
        findings = (*self.pair, *(f for number in self.chosen for f in self.items[number].findings))
        musts = (f for f in findings if f.requirement.level is Level.MUST)
        return self.verdict is Call.NO and self.money.over and not any(f.failed for f in musts)

    def as_json(self) -> dict[str, Any]:
        """The short form: ``{"verdict", "chance", "reasons", "questions", "cost_usd"}``, all of them
        plain.
        """
        return {
            "verdict": str(self.verdict), "chance": round(self.chance, 3), "reasons": [*self.reasons, *self.notes],
            "questions": [asked.ask for asked in self.questions],
            "cost_usd": self.money.total.as_json() if self.money.total else None,
        }  # fmt: skip

    def items_json(self) -> list[dict[str, Any]]:
        """The long form: one object for each item that was judged."""
        return [item.as_json() for item in self.items]

    def full_json(self) -> dict[str, Any]:
        """Both forms together, with work, money and what was found of the pair."""
        lines = [{"label": n.label, "cost_usd": n.cost.as_json(), "source": n.source} for n in self.money.lines]
        return self.as_json() | {
            "items": self.items_json(), "pair": [finding.as_json() for finding in self.pair],
            "work": [task.as_json() for task in self.work], "money": lines,
            "landed": self.money.as_json(), "break_even_usd": self.money.break_even_usd, "notes": list(self.notes),
        }  # fmt: skip
