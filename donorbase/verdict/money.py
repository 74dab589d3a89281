"""What an axle costs landed and made good (F13), and the price that turns a no into a yes."""

from collections.abc import Sequence

from donorbase.engineering.cost_spread import chance_within
from donorbase.facts import Value
from donorbase.verdict.prices import part_lines
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.reserve import hidden_faults
from donorbase.verdict.signs import mentions
from donorbase.verdict.spec import Build
from donorbase.verdict.sums import Cost, HiddenFault, Landed, Line, total_of
from donorbase.verdict.verdicts import Task

ASKED = "the asking price"
TAX = "tax"


def asking_price(prospect: Prospect) -> float | None:
    """The price of the thing itself where the text gives one, else of the whole offer; None where it is
    silent.
    """
    own = prospect.all("price_usd")
    price = own[0] if own else prospect.reading.get("price_usd")
    if price is None and "free" in _terms(prospect):
        return 0.0
    return float(price) if isinstance(price, (int, float)) else None


def _terms(prospect: Prospect) -> list[Value]:
    return [f.value for f in prospect.reading.offer if f.attribute == "price_terms"]


def sold_apart(prospect: Prospect) -> bool:
    """Whether the thing has a price of its own."""
    return bool(prospect.all("price_usd")) or "each" in _terms(prospect)


def landed(
    prospect: Prospect,
    build: Build,
    tasks: tuple[Task, ...],
    parts: tuple[str, ...],
    distance_mi: float | None,
) -> Landed:
    """The sum for one axle."""
    lines = [
        *price_lines(prospect, build),
        *trip_lines(prospect, build, distance_mi),
        *work_lines(tasks, build),
        *part_lines(parts, prospect, build),
    ]
    faults = hidden_faults(prospect, build, {t.word for t in tasks if not t.planned})
    paid = (0.5 if _half_price(prospect, build) else 1.0) * (1 + (build.money.tax_pct or 0) / 100)
    return closed(lines, build, known=asking_price(prospect) is not None, faults=faults, paid_per_usd=paid)


def price_lines(prospect: Prospect, build: Build) -> list[Line]:
    """The asking price as it will be paid: halved on a half-price day, taxed."""
    price = asking_price(prospect)
    if price is None:
        return _guessed(prospect)
    source = "stated"
    if _half_price(prospect, build):
        price, source = price / 2, f"stated {price:,.0f}, half-price day"
    lines = [Line(ASKED, Cost(price, price, price), source)]
    if build.money.tax_pct:
        tax = price * build.money.tax_pct / 100
        lines.append(Line(TAX, Cost(tax, tax, tax), f"{build.money.tax_pct:g} percent"))
    return lines


def _half_price(prospect: Prospect, build: Build) -> bool:
    """Whether the build waits for a half-price day and the offer has one."""
    yard = build.money.yard
    halved = yard is not None and yard.half_price_day
    return halved and mentions(prospect.reading.text, prospect.rules.signs["half_price"])


def _guessed(prospect: Prospect) -> list[Line]:
    best = prospect.best_variant()
    span = best.get("price_range_usd") if best else None
    if not isinstance(span, tuple):
        return []
    low, high = float(span[0]), float(span[1])
    return [Line(ASKED, Cost(low, (low + high) / 2, high), "not said; usual prices of the kind, from memory")]


def trip_lines(prospect: Prospect, build: Build, distance_mi: float | None) -> list[Line]:
    """Travel both ways and what a yard asks: entry, and the core charge, which an upgrade does not get
    back.
    """
    money, rules = build.money, prospect.rules
    lines = []
    if distance_mi:
        rate = rules.price["travel_usd_per_mi"] if money.travel_usd_per_mi is None else money.travel_usd_per_mi
        trip = 2 * distance_mi * rate
        lines.append(Line("travel", Cost(trip, trip, trip), f"2 x {distance_mi:g} mi x {rate:g}"))
    yard = money.yard
    if yard and mentions(prospect.reading.text, rules.signs["yard"]):
        lines += _fee("entry", yard.entry_usd)
    if yard and mentions(prospect.reading.text, rules.signs["core"]):
        back = rules.price["core_return"] if yard.core_return is None else yard.core_return
        lines += _fee("core charge", yard.core_usd and yard.core_usd * (1 - back))
    return lines


def _fee(label: str, usd: float | None) -> list[Line]:
    return [Line(label, Cost(usd, usd, usd), "your figure for the yard")] if usd else []


def work_lines(tasks: tuple[Task, ...], build: Build) -> list[Line]:
    """Work that is not planned anyway, and its hours where the builder prices them."""
    lines = []
    for task in tasks:
        if task.planned:
            continue
        lines.append(Line(task.title, task.cost, task.source))
        if build.money.hour_usd and task.labor_h:
            lines.append(hours_line(task.title, task.labor_h, build.money.hour_usd))
    return lines


def hours_line(title: str, labor_h: tuple[float, float], hour_usd: float) -> Line:
    """The hours of a piece of work at the builder's price."""
    low, high = (hours * hour_usd for hours in labor_h)
    return Line(f"{title}: hours", Cost(low, (low + high) / 2, high), f"{hour_usd:g} an hour")


def closed(
    lines: list[Line],
    build: Build,
    *,
    known: bool,
    faults: Sequence[HiddenFault] = (),
    paid_per_usd: float = 1.0,
) -> Landed:
    """The lines added up and held against the limit; ``known`` says whether the price is.

    ``paid_per_usd`` is what is paid for each dollar asked, with tax and on a half-price day.
    """
    total, limit = total_of(lines), build.money.landed_limit_usd
    priced = any(line.label == ASKED for line in lines)
    beside = total.likely - sum(line.cost.likely for line in lines if line.label in (ASKED, TAX))
    # With work the sum can never be met by a price below nothing.
    even = None if limit is None else round((limit - beside) / paid_per_usd, 2)
    told, chance = (1.0, 1.0) if limit is None else _chances(lines, limit, faults) if priced else (0.5, 0.5)
    sum_of = total if known or priced else None
    return Landed(tuple(lines), sum_of, limit, chance, even, known, tuple(faults), told, paid_per_usd)


def again(money: Landed, lines: list[Line], build: Build) -> Landed:
    """The same sum with other lines."""
    return closed(lines, build, known=money.known, faults=money.faults, paid_per_usd=money.paid_per_usd)


def _chances(lines: list[Line], limit: float, faults: Sequence[HiddenFault]) -> tuple[float, float]:
    """The chance of staying within the limit if nothing hidden is wrong, and with what may be."""
    costs = [line.cost.triple for line in lines]
    hidden = [(fault.chance, fault.cost.triple) for fault in faults]
    told = chance_within(costs, limit)
    return told, chance_within(costs, limit, hidden) if hidden else told
