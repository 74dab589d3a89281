"""What was measured on a part -> whether it is within its limit, in whose words, and what is not known.

In three values: a limit that may be of another axle judges nothing, and a part of which no limit is on record is
neither good nor bad.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from donorbase.reference.catalogue import Variant, WearPoint
from donorbase.reference.measures import Measure
from donorbase.reference.wear_match import applies, is_general, surely_applies

CAST = "measure and compare with the number cast on it, which comes first"
CAST_SOURCE = "49 CFR 570.59(b): a limit marked on the part must be respected"
_HAIR = 1e-9
"""Below what any instrument shows: so that 1.465 read in millimetres is not out by rounding."""


@dataclass(frozen=True, slots=True)
class Judgement:
    """How a measured amount stands: ``within``, ``at limit``, ``out`` or ``not known``, and because of what.

    ``at limit`` lies between two published limits, such as too thin to be turned but not to be used.
    """

    state: str
    because: tuple[str, ...]


def judge_amount(
    amount: float, measure: Measure, points: Iterable[WearPoint], variant: Variant | None, cast: float | None = None
) -> Judgement:
    """Judge an amount, in the unit of the measure, by the limit cast on the part, else by the wear points.

    ``variant`` is the axle it is off, None where that is not known to the variant.
    """
    ours = [p for p in points if measure.is_of(p) and (variant is None or applies(p, variant))]
    if cast is not None:
        state = _against(amount, measure.bound, (cast, cast))
        return Judgement(state, (f"{cast:g} {measure.unit} is cast on it ({CAST_SOURCE})", *_shown(ours, measure)))
    told = [p for p in ours if measure.limits(p) and surely_applies(p, variant)]
    # What is said of that very axle comes before what is said of most.
    judging = [p for p in told if not is_general(p) and not p.applies_to.startswith("most")] or told
    if not judging and variant is not None and measure.figures(variant):
        return _by_figure(amount, measure, variant, ours)
    states = {_against(amount, measure.bound, measure.limits(p)) for p in judging}
    state = states.pop() if len(states) == 1 else "not known"
    return Judgement(state, tuple(_reasons(judging, ours, measure)))


def _by_figure(amount: float, measure: Measure, variant: Variant, ours: list[WearPoint]) -> Judgement:
    """Judge by the figure of that kind of axle where no wear point surely is of it; a doubtful one judges nothing."""
    figure, limits = variant.figures[measure.figure], measure.figures(variant)
    states = {_against(amount, measure.bound, (limit, limit)) for limit in limits}
    sure = figure.confidence != "low" and len(states) == 1
    told = " or ".join(f"{limit:.4g}" for limit in limits)
    words = f"{told} {measure.unit} is the limit of its kind of axle ({figure.confidence}: {figure.basis})"
    return Judgement(states.pop() if sure else "not known", (words, *_reasons([], ours, measure)[1:]))


def _against(amount: float, bound: str, limits: tuple[float, float] | None) -> str:
    first, last = limits or (0.0, 0.0)
    if bound == "between":
        # A setting is read as finely as its range is printed: 0.15 mm is six thousandths.
        read = round(amount, max(_decimals(first), _decimals(last)))
        return "within" if first - _HAIR <= read <= last + _HAIR else "out"
    sign = 1 if bound == "least" else -1
    if sign * (amount - last) < -_HAIR:
        return "out"
    return "at limit" if sign * (amount - first) < -_HAIR else "within"


def _decimals(figure: float) -> int:
    return len(f"{figure:g}".partition(".")[2])


def _reasons(judging: list[WearPoint], ours: list[WearPoint], measure: Measure) -> list[str]:
    found = _shown(judging, measure)
    maybe = [point for point in ours if measure.limits(point) and point not in judging]
    if not judging:
        found.append("no limit on record is surely of this part")
        found += [f"if it is of {p.applies_to}: {_words(p, measure)}" for p in maybe]
    return [*found, f"{CAST} ({CAST_SOURCE})"] if measure.cast else found


def _shown(points: list[WearPoint], measure: Measure) -> list[str]:
    return [_words(point, measure) for point in points if measure.limits(point)]


def _words(point: WearPoint, measure: Measure) -> str:
    out = f"; if out: {point.meaning_if_out}" if point.meaning_if_out else ""
    return f"{point.limit} {measure.unit}{out} ({point.id}, {point.confidence}: {point.basis})"
