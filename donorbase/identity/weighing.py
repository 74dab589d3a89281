"""Facts of one attribute -> how likely they are said or measured, for each true value the attribute may
have."""

import math
from collections.abc import Mapping, Sequence
from statistics import NormalDist

from donorbase.attributes import Kind
from donorbase.facts import Fact, Known, Value
from donorbase.identity.traits import FIRST_YEAR, LAST_YEAR, Trait, Vector
from donorbase.reference.odds import Rates

_LOOSE: Mapping[str, Mapping[str, float]] = {
    "locker": dict.fromkeys(("selectable-locker", "automatic-locker", "spool", "welded"), 0.4),
    "locking": dict.fromkeys(("manual-locking", "automatic-locking"), 0.4),
    "link": {"coil": 0.08},
    # Locking hubs may stand on unit bearings: who names the bearings has not said which hubs there are.
    "unit-bearing": dict.fromkeys(("manual-locking", "automatic-locking"), 0.3),
}
"""Words that people use where a closer one of the list would be right, and how often (common practice)."""
_TOLD = 0.5
"""How much of a wrong statement is drawn from what is common at that end, the rest from anything."""
_MISCOUNT = {1: 0.35, 2: 0.1}
"""Of wrong counts, the share that is off by so many, either way."""
_WRONG_YEAR = {1: 0.2, 2: 0.08, 3: 0.04}
"""Of wrong years, the share that is off by so many, either way; the rest is anything."""
_FITS = 0.5
"""What is said to fit some years was made outside them about as often as inside (common practice)."""


def gathered(facts: Sequence[Fact], many: bool) -> list[tuple[Fact, ...]]:
    """Facts of one attribute as sets of alternatives, each set an observation of its own.

    The same value said twice counts once, as it is best known. What was measured stands alone; different
    statements are one set, of which one can be right.
    """
    order = list(Known)
    best: dict[Value, Fact] = {}
    for fact in facts:
        held = best.get(fact.value)
        if held is None or order.index(fact.known) > order.index(held.known):
            best[fact.value] = fact
    measured: list[tuple[Fact, ...]] = [(f,) for f in best.values() if f.known is Known.MEASURED and not many]
    said = tuple(f for f in best.values() if many or f.known is not Known.MEASURED)
    return [*measured, said] if said else measured


def weights(trait: Trait, facts: Sequence[Fact], end: str, rates: Rates, error_times: float = 1.0) -> Vector:
    """P(facts | true value, end) for each atom of the trait, for OTHER and for NOT_THERE, up to a constant.

    ``error_times`` makes what is said (not what is measured) so many times as often wrong.
    """
    many = trait.attribute.many
    found = [1.0] * (len(trait.atoms) + 2)
    for alternatives in gathered(facts, many):
        torn = len(alternatives) > 1 and not many
        rows = [_one(trait, fact, end, _error(trait, fact, torn, rates, error_times), rates) for fact in alternatives]
        found = [w * sum(column) / len(rows) for w, column in zip(found, zip(*rows, strict=True), strict=True)]
    return tuple(found)


def _error(trait: Trait, fact: Fact, torn: bool, rates: Rates, times: float) -> float:
    known = Known.CONTRADICTED if torn else fact.known
    return rates.error(trait.attribute, known) * (1.0 if known is Known.MEASURED else times)


def _one(trait: Trait, fact: Fact, end: str, error: float, rates: Rates) -> list[float]:
    if trait.attribute.kind is Kind.YEARS:
        return _years(trait, fact, error)
    if trait.numeric:
        return _length(trait, fact, end, error, rates)
    return _step(trait, fact, end, error)


def standard_deviation(trait: Trait, fact: Fact, rates: Rates) -> float:
    """How far a number lies about the catalogue's: the tool's or the talk's, with the spread of single
    axles."""
    name = trait.attribute.name
    stated = rates.stated_sd.get(name, 0.02)
    own = fact.sd or (trait.attribute.sd if fact.known is Known.MEASURED else 0.0) or stated
    return math.hypot(own, rates.spread.get(name, 0.0)) or 1e-6


def _length(trait: Trait, fact: Fact, end: str, error: float, rates: Rates) -> list[float]:
    x, sd = _as_float(fact.value), standard_deviation(trait, fact, rates)
    top = 1.0 / (sd * math.sqrt(2.0 * math.pi))
    near = [top * math.exp(-0.5 * ((x - _as_float(atom)) / sd) ** 2) for atom in trait.atoms]
    anywhere = 1.0 / ((trait.attribute.high or 100.0) - (trait.attribute.low or 0.0))
    told = sum(w * n for w, n in zip(trait.broad[end], near, strict=False))
    wrong = error * (_TOLD * told + (1.0 - _TOLD) * anywhere)
    # A value that the catalogue lacks lies among those that it knows, not anywhere from the lowest believable
    # up.
    other = 1.0 / max(_as_float(trait.atoms[-1]) - _as_float(trait.atoms[0]), 20.0 * sd) if trait.atoms else 0.0
    return [*((1.0 - error) * n + wrong for n in near), (1.0 - error) * other + wrong, wrong]


def _step(trait: Trait, fact: Fact, end: str, error: float) -> list[float]:
    match = [_same(fact, atom) for atom in trait.atoms]
    unlisted = 1.0 / max(_width(trait) - len(trait.atoms), 1.0)
    other = 0.0 if max(match, default=0.0) > 0.0 else unlisted
    told = sum(w * m for w, m in zip(trait.broad[end], match, strict=False))
    wrong = error * (_TOLD * told + (1.0 - _TOLD) / _width(trait))
    counted = fact.known is Known.MEASURED and trait.attribute.kind is Kind.COUNT
    found = [(1.0 - error) * m + wrong for m in match]
    if counted:
        found = [f + error * _off_by(fact.value, atom) for f, atom in zip(found, trait.atoms, strict=True)]
    return [*found, (1.0 - error) * other + wrong, wrong]


def _width(trait: Trait) -> float:
    attribute = trait.attribute
    if attribute.low is not None and attribute.high is not None:
        return attribute.high - attribute.low + 1.0
    return float(max(len(trait.atoms), 2))


def _off_by(stated: Value, atom: Value) -> float:
    return _MISCOUNT.get(round(abs(_as_float(stated) - _as_float(atom))), 0.0)


def _same(fact: Fact, atom: Value) -> float:
    if fact.sd and isinstance(fact.value, int | float):
        return _mass_near(fact.value, _as_float(atom), fact.sd)
    if fact.value == atom:
        return 1.0
    return _LOOSE.get(str(fact.value), {}).get(str(atom), 0.0)


def _mass_near(x: float, count: float, sd: float) -> float:
    curve = NormalDist(x, sd)
    return curve.cdf(count + 0.5) - curve.cdf(count - 0.5)


def _years(trait: Trait, fact: Fact, error: float) -> list[float]:
    first, last = years_of(fact.value)
    if fact.attribute == "fits_years":
        return [*(1.0 if first <= _as_float(y) <= last else _FITS for y in trait.atoms), _FITS, _FITS]
    years = range(first, last + 1)
    anything = (1.0 - 2.0 * sum(_WRONG_YEAR.values())) * len(years) / len(trait.atoms)
    found = []
    for atom in trait.atoms:
        off = max(first - _as_float(atom), _as_float(atom) - last)
        near = _WRONG_YEAR.get(round(off), 0.0) if off > 0 else 0.0
        found.append((1.0 - error if off <= 0 else 0.0) + error * (near + anything))
    return [*found, error * anything, error * anything]


def years_of(value: Value) -> tuple[int, int]:
    """First and last year of a years value, open ends closed by the first and last that are kept."""
    pair = value if isinstance(value, tuple) else (value, value)
    return int(pair[0] or FIRST_YEAR), int(pair[1] or LAST_YEAR)


def _as_float(value: Value) -> float:
    return float(value) if isinstance(value, int | float) else 0.0
