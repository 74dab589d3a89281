"""The yard sheet: for a candidate, an advert or a kind of axle, what to look at before paying, and what decides."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from donorbase.errors import BadInput
from donorbase.facts import Value
from donorbase.reference.inspection import looks
from donorbase.services.axle_at_hand import axles_at_hand
from donorbase.services.builds import find_build
from donorbase.services.candidates import history
from donorbase.services.desk import Checked, Desk
from donorbase.services.house import House
from donorbase.services.rejudging import candidate_verdict
from donorbase.verdict.applies import Case
from donorbase.verdict.axle import weigh_axle
from donorbase.verdict.inspect import Inspection, inspect
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import Build
from donorbase.verdict.subjects import title_of
from donorbase.verdict.verdicts import ItemVerdict

DECIDING = 3
"""Numbers that decide, at most, on a sheet."""
_DRAWN = ("lugs", "bolt_circle_mm", "width_in", "drop", "pinion", "tube_in", "outer_splines", "splines", "cover_bolts",
          "cover_shape")  # fmt: skip
_SURE_ENOUGH = 0.5


@dataclass(frozen=True, slots=True)
class AxlePage:
    """One axle of a sheet: what it should be, what decides (what, how), all looks, figures for the drawings."""

    end: str
    taken_for: str
    may_be: tuple[tuple[str, float], ...]
    verdict: str
    reasons: tuple[str, ...]
    deciding: tuple[tuple[str, str], ...]
    looks: tuple[Inspection, ...]
    figures: dict[str, Value]

    def of_weight(self, weight: str) -> tuple[Inspection, ...]:
        """The looks of one weight, what decides first."""
        return tuple(one for one in self.looks if one.look.weight == weight)

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "end": self.end, "taken_for": self.taken_for, "may_be": [list(one) for one in self.may_be],
            "verdict": self.verdict, "reasons": list(self.reasons),
            "deciding": [{"what": title, "how": how} for title, how in self.deciding],
            "looks": [one.as_json() for one in self.looks],
        }  # fmt: skip


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet to take along. ``about``: whose it is, where, and what is known of the money, in words."""

    title: str
    build: str
    about: tuple[str, ...]
    axles: tuple[AxlePage, ...]
    bring: tuple[str, ...]
    cautions: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "title": self.title, "build": self.build, "about": list(self.about),
            "axles": [page.as_json() for page in self.axles], "bring": list(self.bring),
            "cautions": list(self.cautions),
        }  # fmt: skip


def sheet_of_candidate(house: House, desk: Desk, number: int, build_name: str = "") -> Sheet:
    """The sheet of a kept candidate, judged for its build with its corrections, its price and its distance.

    NotFound where there is none of that number; BadInput where it is kept for another build, or is no axle.
    """
    kept = history(house, number).candidate
    if build_name not in ("", kept.build):
        raise BadInput(f"candidate {number} is kept for {kept.build}, not for {build_name}", "Leave --build out.")
    checked = candidate_verdict(house, desk, number)
    about = [f"candidate {number}", *([f"ZIP {kept.zip}"] if kept.zip else [])]
    if kept.distance_mi is not None:
        about.append(f"{kept.distance_mi:.0f} mi away")
    return _of_checked(checked, find_build(house, kept.build), kept.title, about)


def sheet_of_text(desk: Desk, text: str, build: Build) -> Sheet:
    """The sheet of a pasted advert; BadInput where no axle is on offer in it."""
    return _of_checked(desk.check(text, build), build, " ".join(text.split())[:70], ["a pasted advert"])


def sheet_of_variant(desk: Desk, key: str, build: Build) -> Sheet:
    """The sheet of a kind of axle by its key, as one looks for it in a yard; NotFound for a mistyped key."""
    axles = axles_at_hand(desk, variant=key)
    judged = [(axle, weigh_axle(axle, build, None).verdict) for axle in axles]
    pages = tuple(_page(axle, verdict, build) for axle, verdict in judged)
    return _sheet(axles[0].catalogue.variants[key].title, build, (key,), pages, ())


def _of_checked(checked: Checked, build: Build, title: str, about: Sequence[str]) -> Sheet:
    judged = [checked.verdict.items[number] for number in checked.verdict.chosen]
    pages = tuple(_page(one.prospect, one, build) for one in judged if one.prospect)
    if not pages:
        why = "; ".join(checked.verdict.reasons)
        raise BadInput(f"no axle is on offer in it: {why}", "`donorbase read` shows what was read; or name a variant.")
    return _sheet(title, build, (*about, *_money(checked, build)), pages, checked.cautions)


def _money(checked: Checked, build: Build) -> list[str]:
    price, total = checked.reading.get("price_usd"), checked.verdict.money.total
    told = [f"asked {price:,.0f} USD"] if isinstance(price, int | float) else []
    told += [f"landed about {total.likely:,.0f} USD"] if total else []
    limit = build.money.landed_limit_usd
    return told + ([f"your limit {limit:,.0f} USD"] if limit is not None else [])


def _sheet(
    title: str, build: Build, about: Sequence[str], pages: tuple[AxlePage, ...], cautions: Sequence[str]
) -> Sheet:
    things = (thing for page in pages for one in page.looks for thing in one.look.bring)
    return Sheet(title, build.name, tuple(about), pages, tuple(dict.fromkeys(things)), tuple(cautions))


def _page(axle: Prospect, verdict: ItemVerdict, build: Build) -> AxlePage:
    asked = verdict.questions[:DECIDING]
    deciding = tuple((title_of(one.subject), one.how or one.ask) for one in asked)
    case = Case(axle.end, build, axle, frozenset(build.work.planned), frozenset(build.work.accepted))
    found = inspect(looks(), case, verdict.findings, [one.subject for one in asked])
    may_be = [(c.variant or "none of the catalogue's", c.probability) for c in axle.identification.candidates[:3]]
    figures = {name: value for name in _DRAWN if (value := _likely(axle, name)) is not None}
    open_ones = (f.because for f in verdict.findings if f.failed or f.open)
    reasons = tuple(dict.fromkeys((*verdict.hazards, *open_ones)))
    return AxlePage(
        axle.end, verdict.taken_for, tuple(may_be), str(verdict.verdict), reasons, deciding, tuple(found), figures
    )


def _likely(axle: Prospect, name: str) -> Value | None:
    belief = axle.overall(name)
    return belief.weights[0][0] if belief.weights and belief.weights[0][1] >= _SURE_ENOUGH else None
