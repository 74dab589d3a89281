"""A build and a reading -> the verdict of the offer."""

import math
from dataclasses import replace

from donorbase.facts import Fact, Item, Reading
from donorbase.identity.identification import Identification
from donorbase.identity.questions import Decision
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.judging import Judging, judging
from donorbase.reference.odds import Rates, load_rates
from donorbase.verdict.axle import Weighed, call_of, weigh_axle
from donorbase.verdict.money import again, sold_apart, work_lines
from donorbase.verdict.pair import Side, judge_pair
from donorbase.verdict.prospect import Prospect, prospects_of
from donorbase.verdict.reasons import reasons_of
from donorbase.verdict.renewed import without_renewed
from donorbase.verdict.rule import call
from donorbase.verdict.signs import says
from donorbase.verdict.spec import ENDS, Build, Money
from donorbase.verdict.subjects import subject_of
from donorbase.verdict.together import judge_together, pair_tasks, side_of
from donorbase.verdict.verdicts import Call, Finding, ItemVerdict, Landed, ListingVerdict

_KINDS = frozenset({"axle", "housing", "vehicle"})
_EMPTY = Landed((), None, None, 0.0, None)


def judge(
    build: Build,
    reading: Reading,
    catalogue: Catalogue,
    *,
    distance_mi: float | None = None,
    rates: Rates | None = None,
    rules: Judging | None = None,
) -> ListingVerdict:
    """What the offer is worth to the build: each usable thing judged, and the best of it, or the pair.

    ``distance_mi`` is one way; left out, that of the listing counts where it gives one. ``rates`` and
    ``rules`` stand in for the shipped rates of error and figures of judging. Never raises on what a listing
    says or leaves out.
    """
    rules = rules or judging()
    weighed = weigh(build, reading, catalogue, distance_mi=distance_mi, rates=rates, rules=rules)
    items = tuple(w.verdict for w in weighed)
    if not weighed:
        return _nothing(reading)
    fronts, rears = (sorted((w for w in weighed if w.prospect.end == end), key=_order)[:_TRIED] for end in ENDS)
    if set(build.wants) == set(ENDS) and fronts and rears:
        together = (judge_together(front, rear, build, items, rules) for front in fronts for rear in rears)
        pair = min(together, key=_standing)
        alone = min(weighed, key=_order)
        return _single(alone, build, items, rules) if pair.verdict is Call.NO and _may_part(alone, rules) else pair
    singles = (_single(one, build, items, rules) for one in sorted(weighed, key=_order)[:_TRIED])
    return min(singles, key=_standing)


_TRIED = 4
"""Of several of one end in an offer so many, the best by themselves, are held against the other end."""


def weigh(
    build: Build,
    reading: Reading,
    catalogue: Catalogue,
    *,
    distance_mi: float | None = None,
    rates: Rates | None = None,
    rules: Judging | None = None,
) -> list[Weighed]:
    """Each thing of the offer that can be a donor of a wanted end, judged by itself."""
    miles = distance_mi if distance_mi is not None else _miles(reading)
    rules = rules or judging()
    prospects = _prospects(
        build, without_renewed(reading, build.work.planned, rules), catalogue, rules, rates or load_rates()
    )
    return [weigh_axle(prospect, build, miles) for prospect in prospects]


def decision_on(build: Build, catalogue: Catalogue, rates: Rates | None = None) -> Decision:
    """What would be decided of an axle in front of one, by its facts alone: for ``identity.questions``.

    Money is left out, for nothing is asked for it yet.
    """
    free, rules = replace(build, money=Money()), judging()

    def decide(_: Identification, facts: tuple[Fact, ...]) -> str:
        item = Item((Fact("kind", "axle"), *facts))
        reading = Reading("", (Fact("offer", "for-sale"), Fact("price_usd", 0.0)), (item,))
        found = _prospects(free, reading, catalogue, rules, rates or load_rates())
        return str(min((call_of(p, free, None) for p in found), key=lambda c: c.rank, default=Call.NO))

    return decide


def _miles(reading: Reading) -> float | None:
    miles = reading.get("distance_mi")
    return float(miles) if isinstance(miles, (int, float)) else None


def _order(weighed: Weighed) -> tuple[int, float, float, str]:
    verdict = weighed.verdict
    cost = verdict.money.total.likely if verdict.money.total else 0.0
    return (verdict.verdict.rank, -round(verdict.chance, 6), cost, _said(verdict))


def _standing(found: ListingVerdict) -> tuple[int, float, float, str]:
    """By which the best of several is chosen: the verdict, the chance, the cost, and never the place in the text."""
    cost = found.money.total.likely if found.money.total else 0.0
    words = " + ".join(_said(found.items[number]) for number in found.chosen)
    return (found.verdict.rank, -round(found.chance, 6), cost, words)


def _said(item: ItemVerdict) -> str:
    facts = item.prospect.facts if item.prospect else ()
    return ", ".join(sorted(f"{fact.attribute} {fact.value}" for fact in facts))


def _prospects(build: Build, reading: Reading, catalogue: Catalogue, rules: Judging, rates: Rates) -> list[Prospect]:
    """The things that can be donors of a wanted end; where there is none, all of them, so that it is said
    why not.
    """
    found = [
        prospect
        for number, item in enumerate(reading.items)
        if _can_be_donor(str(item.get("kind") or "axle"), build)
        for prospect in prospects_of(number, item, reading, catalogue, rules, rates)
    ]
    wanted = [prospect for prospect in found if prospect.end in build.wants]
    for prospect in found if not wanted else ():
        prospect.end = build.wants[0]
    return wanted or found


def _can_be_donor(kind: str, build: Build) -> bool:
    asked = [r.condition for end in build.wants for r in build.of_end(end) if r.subject == "kind"]
    return kind in _KINDS or any(condition.share(kind, subject_of("kind")) == 1 for condition in asked)


def _nothing(reading: Reading) -> ListingVerdict:
    kinds = sorted({str(item.get("kind") or "axle") for item in reading.items})
    offer = reading.get("offer")
    if offer in {"wanted", "sold"}:
        why = "this is a wanted advertisement: nothing is on offer" if offer == "wanted" else "it is sold"
    else:
        why = f"no axle is on offer, only {' and '.join(kinds)}" if kinds else "no axle is on offer"
    return ListingVerdict((), Call.NO, 0.0, (why,), tuple, (), _EMPTY)


def _single(best: Weighed, build: Build, items: tuple[ItemVerdict, ...], rules: Judging) -> ListingVerdict:
    verdict, pair = best.verdict, _against_what_is_there(best, build, rules)
    extra = pair_tasks(pair, (best,), build)
    tasks, findings = (*best.tasks, *extra), [*verdict.findings, *pair]
    lines = [*verdict.money.lines, *work_lines(extra, build)]
    money = again(verdict.money, lines, build) if extra else verdict.money
    missing = [end for end in build.wants if all(item.end != end for item in items)]
    notes = tuple(f"the build also wants a {end}; this offer has none" for end in missing)
    return ListingVerdict(
        items=items,
        verdict=call(findings, money, verdict.hazards, tasks, rules),
        chance=verdict.chance * math.prod(1.0 if f.cured_by else f.chance for f in pair),
        reasons=reasons_of(findings, money, verdict.hazards),
        asking=verdict.asking,
        work=tasks,
        money=money,
        chosen=(items.index(verdict),),
        pair=tuple(pair),
        notes=(*notes, *verdict.notes),
    )


def _against_what_is_there(best: Weighed, build: Build, rules: Judging) -> list[Finding]:
    """Requirements of the pair where the other end is there already."""
    end = best.prospect.end
    other = ENDS[1 - ENDS.index(end)]
    if other not in build.has:
        return []
    own, there = side_of(best), Side(other, has=dict(build.has[other]))
    front, rear = (own, there) if end == "front" else (there, own)
    return judge_pair(build, front, rear, rules, best.judged.counted)


def _may_part(best: Weighed, rules: Judging) -> bool:
    """Whether one axle of an offer of several can be had alone: it has its own price, or the seller says
    so.
    """
    text = best.prospect.reading.text
    if best.verdict.verdict is Call.NO or says(text, rules.signs["no_split"]):
        return False
    return sold_apart(best.prospect) or says(text, rules.signs["split"])
