"""A locker on order: whether its kind is made for the axle, and whether the shafts go into it."""

from collections.abc import Iterator

from donorbase.reference.catalogue import Variant
from donorbase.reference.lockers import INSERTS, KINDS, Locker, insert_row, lockers_of
from donorbase.verdict.lights import FAILS, HOLDS, OPEN, Chance, Light, Line, counted, light_of, light_on, over_worlds
from donorbase.verdict.ordered import SPOOLS, Order
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.subjects import subject_of

_SPLINES_SOURCE = "side gears take one spline count: a caliper over the splines, (N + 1)/24 in (ANSI B92.1), tells it"


def locker_lines(order: Order, axle: Prospect) -> tuple[Line, ...]:
    """The lines of the locker; none where none is ordered."""
    if not order.locker:
        return ()
    found = [_made(order, axle)]
    if order.locker in INSERTS:
        found.append(_open_case(axle))
    if order.locker != "lunchbox":
        found.append(_splines(order, axle))
    found += _on_the_road(order, axle)
    return tuple(found)


def _made(order: Order, axle: Prospect) -> Line:
    if order.locker in INSERTS:
        return _insert_made(order.locker, axle)
    chance = over_worlds(axle, lambda variant: _made_for(order.locker, variant, axle))
    entries = {_entry(order.locker, w.variant, axle) for w in axle.worlds() if w.variant}
    said = sorted({f"{KINDS[e.kind]}: {e.made}" + (f" ({e.limit})" if e.limit else "") for e in entries})
    basis = "; ".join(sorted({f"{e.basis}, {e.confidence} confidence" for e in entries})) or "nothing on record"
    light = light_of(chance, axle.rules.known)
    settle = "" if light is Light.GO else "Ask the maker for a part number for this axle, year, splines and ratio."
    return Line("locker made for it", light, "; ".join(said) or "not known", basis, settle)


def _entry(kind: str, variant: Variant, axle: Prospect) -> Locker:
    return next(locker for locker in lockers_of(variant, axle.catalogue) if locker.kind == kind)


def _made_for(kind: str, variant: Variant, axle: Prospect) -> Chance:
    entry = _entry(kind, variant, axle)
    if entry.confidence == "low":
        return OPEN
    if entry.made == "yes" and entry.splines:
        # For shafts of another count nothing is told.
        holds, _ = axle.belief(_shafts(axle), variant).chance(lambda count: count == entry.splines)
        return holds, 1 - holds
    # "few" and "factory" leave open whether one is made for just this axle.
    return {"yes": HOLDS, "no": FAILS}.get(entry.made, OPEN)


def _shafts(axle: Prospect) -> str:
    """The attribute that counts the splines at the differential."""
    return "inner_splines" if axle.end == "front" else "splines"


def _insert_made(kind: str, axle: Prospect) -> Line:
    row = insert_row(axle.catalogue)
    why = f"{INSERTS[kind]}: {row.condition}" if row else f"{INSERTS[kind]}: nothing on record"
    basis = f"{row.basis}, {row.confidence} confidence" if row else "nothing on record"
    settle = "Ask for a part number for this axle, its year and its case: that is not on record."
    return Line("locker made for it", Light.UNCLEAR, why, basis, settle)


def _open_case(axle: Prospect) -> Line:
    found = axle.overall("differential")
    light = light_on(axle, "differential", lambda kind: kind == "open")
    now = " or ".join(f"{kind} ({p:.0%})" for kind, p in found.weights[:3] if p >= 0.05) or "not known"
    how = "" if light is Light.GO else subject_of("differential").how
    seen = counted(axle, "differential")
    why = f"it goes in place of the spider gears of an open differential; in the axle is: {now}{seen}"
    return Line("open case to go into", light, why, "common practice", how)


def _splines(order: Order, axle: Prospect) -> Line:
    name = _shafts(axle)
    belief, subject = axle.overall(name), subject_of(name)
    shafts = " or ".join(f"{count} ({p:.0%})" for count, p in belief.weights[:3] if p >= 0.02) or "not known"
    topic = "splines of the shafts"
    if order.locker_splines is None:
        why = f"at the differential the shafts have: {shafts}; the locker's count is not told"
        return Line(topic, Light.UNCLEAR, why, _SPLINES_SOURCE, "Ask for how many splines the locker is made.")
    wanted = order.locker_splines
    light = light_on(axle, name, lambda count: count == wanted)
    best = axle.best_variant()
    figure = best.figures.get(name) if best else None
    basis = f"{figure.basis}, {figure.confidence} confidence; {_SPLINES_SOURCE}" if figure else _SPLINES_SOURCE
    why = f"at the differential the shafts have: {shafts}{counted(axle, name)}; the locker takes {wanted}"
    return Line(topic, light, why, basis, "" if light is Light.GO else subject.how)


def _on_the_road(order: Order, axle: Prospect) -> Iterator[Line]:
    if order.locker in SPOOLS and axle.end == "front":
        why = "a spool in front turns both wheels alike in every bend: on the road the truck steers dangerously"
        settle = "Is the truck ever to be driven on a public road? Then a selectable locker; ask your State."
        yield Line("on the road", Light.UNCLEAR, why, "common practice", settle)
