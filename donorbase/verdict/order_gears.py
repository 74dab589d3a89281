"""A ring and pinion on order: its generation, its cut, whether it is made, its teeth, and its matched numbers."""

from donorbase.engineering.gearing import LOOSE_GROUND_PCT, MATCH_PCT, MISMATCH_SOURCE, quoted_mismatch
from donorbase.engineering.teeth import SOURCE as TEETH_SOURCE
from donorbase.engineering.teeth import tooth_pairs, written_ratio
from donorbase.reference.catalogue import GearSet, Interchange, Variant
from donorbase.verdict.lights import FAILS, HOLDS, OPEN, Chance, Light, Line, light_of, measured, over_worlds
from donorbase.verdict.ordered import Order
from donorbase.verdict.prospect import Prospect, overlap
from donorbase.verdict.subjects import subject_of
from donorbase.verdict.weigh import sold

TEETH_TOPIC = "teeth front and rear"
PAIR_TRADE = "a set is lapped as a pair: common practice"
_CUT_SOURCE = "reverse-cut gears do not interchange with standard ones: general how-to article, Jan 2014 (read)"
_LOOK_AT_BOTH = "Before you pay, compare old and new: ring diameter, pinion bearings and splines, offset of the ring."
_A_NEW_ONE = "Ask for a part number for just this axle and year; a new set may have come out."
_ASK_COUNTER = "Ask the counter, and have it written on the order:"


def gear_lines(order: Order, axle: Prospect) -> tuple[Line, ...]:
    """The lines of the gears themselves; those of the case that they bolt to stand elsewhere."""
    lines = [_generation(order, axle), _cut(order, axle)]
    if order.ratio:
        lines += [_made(order.ratio, axle), _teeth(order.ratio, order.other_ratio, axle.end)]
    if order.used or order.ring_number or order.pinion_number:
        lines.append(_numbers(order))
    return tuple(lines)


def likeliest_set(axle: Prospect) -> GearSet | None:
    """The generation of gears that the axle most probably has; None where none is known."""
    weights = set_weights(axle)
    best = max(weights, key=lambda key: weights[key], default="")
    return axle.catalogue.gear_sets.get(best)


def set_weights(axle: Prospect) -> dict[str, float]:
    """How probable each generation of gears is; an empty key where it is not known."""
    found: dict[str, float] = {}
    for world in axle.worlds():
        key = str(world.variant.get("gear_set") or "") if world.variant else ""
        found[key] = found.get(key, 0.0) + world.weight
    return found


def settled(axle: Prospect) -> bool:
    """Whether it is known well enough which generation of gears the axle has."""
    return max((p for key, p in set_weights(axle).items() if key), default=0.0) >= axle.rules.known.high


def set_basis(gear_set: GearSet | None) -> str:
    """Where the figures of a gear set come from, and how sure they are."""
    return f"{gear_set.basis}, {gear_set.confidence} confidence" if gear_set else "nothing on record"


def known_set(variant: Variant, axle: Prospect) -> GearSet | None:
    """The generation of a variant's gears; None where it is not known, or known with low confidence only.

    What is of low confidence is no ground to spend money on.
    """
    figure = variant.figures.get("gear_set")
    return axle.gear_set(variant) if figure and figure.confidence != "low" else None


# ---------------------------------------------------------------- generation


def _generation(order: Order, axle: Prospect) -> Line:
    chance = over_worlds(axle, lambda variant: _same_generation(order, variant, axle))
    light = light_of(chance, axle.rules.known)
    told = bool(order.set_key or order.made_for)
    needs = _needed(axle)
    ordered = order.set_key or (_years(order.made_for) if order.made_for else "a generation not told")
    why = f"the axle takes {needs}; ordered is {ordered}"
    settle = ""
    if light is Light.UNCLEAR:
        settle = f"{_ASK_COUNTER} which generation or years is the set made for?" if not told else ""
        settle = settle or _LOOK_AT_BOTH
        settle += f" {subject_of('years').ask}" if not told and len(set_weights(axle)) > 1 else ""
    return Line("generation of the gears", light, why, _row_basis(axle, order), settle.strip())


def _needed(axle: Prospect) -> str:
    weights = sorted(set_weights(axle).items(), key=lambda pair: -pair[1])
    named = [(key or "one that is not known", p) for key, p in weights[:3] if p >= 0.02]
    if len(named) == 1 and named[0][1] >= axle.rules.known.high:
        return named[0][0]
    return " or ".join(f"{key} ({p:.0%})" for key, p in named)


def _years(span: tuple[int, int | None]) -> str:
    return f"a set for {span[0]} on" if span[1] is None else f"a set for {span[0]}-{span[1]}"


def _row_basis(axle: Prospect, order: Order) -> str:
    gear_set = likeliest_set(axle)
    rows = _rows_between(order.set_key, axle.best_variant(), axle)
    said = [f"{row.id}: {row.condition} ({row.basis})" for row in rows]
    return "; ".join([set_basis(gear_set), *said])


def _same_generation(order: Order, variant: Variant, axle: Prospect) -> Chance:
    own = known_set(variant, axle)
    if order.set_key in axle.catalogue.variants:
        return _from_axle(axle.catalogue.variants[order.set_key], variant, axle)
    if own is None:
        return OPEN
    if order.set_key:
        return HOLDS if order.set_key == own.key else FAILS
    if order.made_for:
        return _for_years(order.made_for, variant, own, axle)
    return OPEN


def _from_axle(source: Variant, variant: Variant, axle: Prospect) -> Chance:
    """A set out of another axle: of the same generation, or as a row of what fits what tells."""
    theirs, own = known_set(source, axle), known_set(variant, axle)
    if theirs and own and theirs.key == own.key:
        return HOLDS
    fits = {row.fits for row in _rows_between(source.key, variant, axle)}
    if fits and fits <= {"yes", "no"} and len(fits) == 1:
        return HOLDS if fits == {"yes"} else FAILS
    return FAILS if theirs and own else OPEN


def _rows_between(source: str, variant: Variant | None, axle: Prospect) -> list[Interchange]:
    rows = (row for row in axle.catalogue.interchange if row.kind == "fit" and row.part == "ring-and-pinion")
    if variant is None or not source:
        return []
    # A set fits both ways or neither.
    ways = ((source, variant.key), (variant.key, source))
    return [row for row in rows if any(row.applies_to(a) and row.fits_onto(b) for a, b in ways)]


def _for_years(span: tuple[int, int | None], variant: Variant, own: GearSet, axle: Prospect) -> Chance:
    """Gears sold by years are those that axles of the same design and line had in them."""
    sets = {
        str(other.get("gear_set") or "")
        for other in axle.catalogue.variants.values()
        if other.family is variant.family
        and other.get("donor_line") == variant.get("donor_line")
        and isinstance(years := other.get("years"), tuple)
        and overlap(years, span)
    }
    if not sets or "" in sets:
        return OPEN
    if own.key not in sets:
        return FAILS
    return HOLDS if sets == {own.key} else OPEN


# ---------------------------------------------------------------- cut


def _cut(order: Order, axle: Prospect) -> Line:
    ordered = order.cut or _cut_of_key(order.set_key, axle)
    chance = over_worlds(axle, lambda variant: _same_cut(ordered, variant, axle))
    light = light_of(chance, axle.rules.known)
    needed = sorted({_cut_needed(w.variant, axle) for w in axle.worlds() if w.variant} - {""})
    takes = " or ".join(needed) or "a cut that is not known"
    why = f"the axle takes {takes} cut; ordered is {ordered or 'a cut not told'}"
    settle = ""
    if light is Light.UNCLEAR:
        asks = [] if len(needed) == 1 else [subject_of("pinion").how]
        asks += [] if ordered else [f"{_ASK_COUNTER} is it cut standard or reverse (for high-pinion fronts)?"]
        settle = " ".join(asks) or subject_of("pinion").how
    return Line("spiral (cut)", light, why, _CUT_SOURCE, settle)


def _cut_of_key(key: str, axle: Prospect) -> str:
    if key in axle.catalogue.variants:
        return _cut_needed(axle.catalogue.variants[key], axle)
    gear_set = axle.catalogue.gear_sets.get(key)
    return gear_set.cut if gear_set and gear_set.cut != "not known" else ""


def _cut_needed(variant: Variant, axle: Prospect) -> str:
    """The cut of a variant's gears, of a front else by its pinion's height.

    Empty where neither is known, and where the height that was seen speaks against the gears of the kind.
    """
    gear_set, front = known_set(variant, axle), variant.family.position == "front"
    seen = {_BY_HEIGHT[str(height)] for height in measured(axle, "pinion")} if front else set()
    if gear_set and gear_set.cut != "not known":
        return gear_set.cut if seen <= {gear_set.cut} else ""
    if not front:
        return ""
    return seen.pop() if len(seen) == 1 else _BY_HEIGHT.get(str(axle.belief("pinion", variant).best), "")


_BY_HEIGHT = {"high": "reverse", "low": "standard"}
"""Of fronts alone."""


def _same_cut(ordered: str, variant: Variant, axle: Prospect) -> Chance:
    needed = _cut_needed(variant, axle)
    if not ordered or not needed:
        return OPEN
    return HOLDS if ordered == needed else FAILS


# ---------------------------------------------------------------- made at all, teeth, numbers


def _made(ratio: float, axle: Prospect) -> Line:
    chance = over_worlds(axle, lambda variant: _sold_in(ratio, variant, axle))
    light, gear_set = light_of(chance, axle.rules.known), likeliest_set(axle)
    if gear_set is None or not gear_set.ratios_sold:
        why = f"which ratios are made for it is not known, so {written_ratio(ratio)} is open"
    elif chance[0] >= axle.rules.known.high:
        why = f"{written_ratio(ratio)} is sold for {gear_set.key}"
    else:
        listed = ", ".join(f"{r:.2f}" for r in gear_set.ratios_sold)
        why = f"for {gear_set.key} are on record: {listed}; asked is {written_ratio(ratio)}"
    settle = "" if light is Light.GO else _A_NEW_ONE if settled(axle) else "Settle first which gears the axle has."
    return Line("made for it", light, why, f"{set_basis(gear_set)}, as of 2026", settle)


def _sold_in(ratio: float, variant: Variant, axle: Prospect) -> Chance:
    gear_set = known_set(variant, axle)
    return OPEN if gear_set is None or gear_set.confidence == "low" else sold(ratio, axle, variant)


def _teeth(ratio: float, other: float | None, end: str) -> Line:
    there = "rear" if end == "front" else "front"
    pairs = _pairs(ratio)
    if other is None:
        why = f"{written_ratio(ratio)} is {pairs}; the {there} ratio is not told"
        return Line(TEETH_TOPIC, Light.UNCLEAR, why, TEETH_SOURCE, f"Count the teeth of the {there} axle.")
    apart = quoted_mismatch(ratio, other) if end == "front" else quoted_mismatch(other, ratio)
    span = f"{apart.low_pct:.2f} to " if apart.low_pct != apart.high_pct else ""
    against = f"{written_ratio(other)} ({_pairs(other)}) at the {there}"
    why = f"{written_ratio(ratio)} ({pairs}) against {against}: {span}{apart.high_pct:.2f} % apart"
    if apart.high_pct <= MATCH_PCT:
        return Line(TEETH_TOPIC, Light.GO, why, MISMATCH_SOURCE)
    if apart.low_pct > LOOSE_GROUND_PCT:
        return Line(TEETH_TOPIC, Light.STOP, f"{why}: no four-wheel drive", MISMATCH_SOURCE)
    if apart.low_pct > MATCH_PCT:
        return Line(TEETH_TOPIC, Light.STOP, f"{why}: loose ground only", MISMATCH_SOURCE)
    return Line(TEETH_TOPIC, Light.UNCLEAR, why, MISMATCH_SOURCE, "Count the teeth of both ends.")


def _pairs(ratio: float) -> str:
    pairs = tooth_pairs(ratio)
    usual = [p for p in pairs if p.usual] or list(pairs[:2])
    return " or ".join(map(str, usual)) + " teeth" if usual else "no known pair of teeth"


def _numbers(order: Order) -> Line:
    ring, pinion = order.ring_number.strip().casefold(), order.pinion_number.strip().casefold()
    topic = "matched numbers"
    if not ring or not pinion:
        missing = " and ".join(name for name, number in (("ring", ring), ("pinion", pinion)) if not number)
        why = f"the number of the {missing} is not told: an old ring on another pinion howls and wears out"
        return Line(topic, Light.UNCLEAR, why, PAIR_TRADE, "A photo of the numbers etched on ring and pinion?")
    if ring == pinion:
        return Line(topic, Light.GO, f"both bear {order.ring_number.strip()}", PAIR_TRADE)
    why = f"ring {order.ring_number.strip()}, pinion {order.pinion_number.strip()}: they were not made together"
    return Line(topic, Light.STOP, why, PAIR_TRADE)
