"""What work and parts cost: the builder's price book, over the conversions listed for the kind, over the
shipped range.
"""

from donorbase.reference.catalogue import Interchange
from donorbase.reference.judging import Part
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import Build
from donorbase.verdict.verdicts import NOTHING, Cost, Line, Task

OWN = "your price book"


def price_of_work(word: str, prospect: Prospect, build: Build) -> tuple[Cost, tuple[float, float] | None, str]:
    """Cost in USD, hours, and where both come from."""
    row, generic = _conversion(word, prospect), prospect.catalogue.works.get(word)
    hours = row.labor_h if row and row.labor_h else generic.labor_h if generic else None
    if word in build.work.price_usd:
        own = build.work.price_usd[word]
        return Cost(own, own, own), hours, OWN
    if row and row.cost_usd:
        return _spread(*row.cost_usd), hours, f"{row.part}, {row.confidence} confidence, {row.basis}"
    if generic and generic.cost_usd:
        return _spread(*generic.cost_usd), hours, f"{generic.confidence} confidence, {generic.basis}"
    return NOTHING, hours, "no price known"


def _spread(low: float, high: float) -> Cost:
    return Cost(low, (low + high) / 2, high)


def _conversion(word: str, prospect: Prospect) -> Interchange | None:
    """The cheapest conversion of that word listed for the likeliest kind."""
    best = prospect.best_variant()
    rows = prospect.catalogue.interchange if best else ()
    fitting = [r for r in rows if r.work == word and r.kind == "conversion" and best and r.applies_to(best.key)]
    return min(fitting, key=lambda row: (sum(row.cost_usd or (0, 0)), row.id), default=None)


def task(word: str, because: str, prospect: Prospect, build: Build) -> Task:
    """A word of work with its price for this axle; planned work costs nothing more."""
    cost, hours, source = price_of_work(word, prospect, build)
    known = prospect.catalogue.works.get(word)
    planned = word in build.work.planned
    return Task(
        word, known.title if known else word, because, planned, NOTHING if planned else cost, hours,
        "planned anyway" if planned else source,
    )  # fmt: skip


def part_lines(parts: tuple[str, ...], prospect: Prospect, build: Build) -> list[Line]:
    """A line for each missing part, those of one group of the price book together."""
    book, known = build.money.part_price_usd, prospect.rules.parts
    lines: dict[str, Line] = {}
    for part in parts:
        row = known.get(part)
        if part in book:
            lines[part] = _own_line(part, book[part], _pieces(part, row, prospect))
        elif row and row.group in book:
            lines[row.group] = Line(row.group, Cost(*(book[row.group],) * 3), OWN)
        else:
            lines[part] = _shipped_line(part, row, _pieces(part, row, prospect))
    return list(lines.values())


def _pieces(part: str, row: Part | None, prospect: Prospect) -> int:
    """How many are gone: one where the text names one ("the left hub is missing"), else as many as an axle
    has.
    """
    spans = [span for f in prospect.facts_of("missing") if f.value == part for span in f.spans]
    named = [prospect.reading.text[begin:end].rstrip(".,;: ").lower() for begin, end in spans]
    return 1 if named and not any(word.endswith("s") for word in named) else row.pieces if row else 1


def _own_line(part: str, price: float, pieces: int) -> Line:
    label = f"{part}, one to {pieces}" if pieces > 1 else part
    return Line(label, Cost(price, price * pieces, price * pieces), OWN)


def _shipped_line(part: str, row: Part | None, pieces: int) -> Line:
    if row is None:
        return Line(part, NOTHING, "no price known")
    low, high = row.price_usd
    likely = (low + high) / 2 * pieces
    return Line(part, Cost(low, likely, high * pieces), "shipped range of used and plain new parts, from memory")
