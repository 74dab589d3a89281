"""Raw measurements, as they are taken beside an axle, -> facts with their error, notes and faults."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial

from donorbase.attributes import attribute
from donorbase.engineering.bolt_circle import NEIGHBOR, OPPOSITE, SECOND, read_circle
from donorbase.engineering.ratio_by_turning import BOTH_TURN, ONE_HELD, ratio_by_turning, turns_to_tell
from donorbase.engineering.splines import AXLE_PITCH, CALIPER_SD_IN, NEVER_BY_COUNT, spline_candidates
from donorbase.engineering.vin import read_vin
from donorbase.errors import BadInput
from donorbase.facts import Fact, Known, Value
from donorbase.identity.entries import Told, length_in_unit, whole_number, written
from donorbase.identity.possible import check_observations, fault_of
from donorbase.reference.units import MM_PER_IN, parse_number

_TEETH_SD = 0.005
"""Counted teeth give the ratio to the last figure; catalogues round it to two places."""
_STUDS: dict[str, tuple[str, bool]] = {
    "stud_across": (OPPOSITE, False),
    "stud_outside_inside": (OPPOSITE, True),
    "stud_neighbor": (NEIGHBOR, False),
    "stud_second": (SECOND, False),
}
"""What is measured between studs: which of them, and whether from edge to edge."""
_SHAFTS = ("spline_dia", "outer_spline_dia", "inner_spline_dia")
_TURNS = ("pinion_turns", "wheel_turns", "wheels", "rolled_in", "tire_circumference_in")
_TEETH = ("ring_teeth", "pinion_teeth")
_WHEELS = {"both": BOTH_TURN, "one held": ONE_HELD, "one-held": ONE_HELD, "both-turn": BOTH_TURN}


@dataclass(frozen=True, slots=True)
class Observed:
    """What was seen: ``facts`` for identification, ``notes`` (what cannot be told, what to do better),
    ``faults``.

    A fault names an entry that could not be used, in words for the person who made it; the rest is used.
    """

    facts: tuple[Fact, ...]
    notes: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()


@dataclass
class _Notebook:
    saw: dict[str, Told]
    latest_year: int
    facts: list[Fact] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    def take(self, *names: str) -> dict[str, Told]:
        """Entries by name, taken out so that what is left over can be named."""
        return {name: self.saw.pop(name) for name in names if name in self.saw}

    def add(self, name: str, value: Value, sd: float | None = None) -> None:
        """A measured fact, if it can be; else a fault."""
        fault = fault_of(name, value)
        if fault:
            self.faults.append(fault)
        else:
            self.facts.append(Fact(name, value, Known.MEASURED, sd=sd))

    def attempt(self, step: Callable[[], None]) -> None:
        """Do a step; what was wrong with its entries becomes a fault."""
        try:
            step()
        except BadInput as wrong:
            self.faults.append(" ".join(part for part in (f"{wrong.what}.", wrong.next_step) if part))


def observe(saw: Mapping[str, Told], *, latest_year: int | None = None) -> Observed:
    """Facts from measurements by name; never raises on content.

    Names: any attribute by its own name or alias, in its own unit or with one (``tube_in="89 mm"``), lengths
    also in the other unit (``bolt_circle_in``); and, as they are measured, ``stud_across_mm`` / ``_in``
    (opposite studs, centre to centre), ``stud_outside_inside_mm`` (outside of one to inside of the
    opposite), ``stud_neighbor_mm``, ``stud_second_mm`` (skip one), with ``lugs`` and ``tool`` (tape or
    caliper); ``spline_dia_in``, ``outer_spline_dia_in``, ``inner_spline_dia_in`` / ``_mm`` (caliper over the
    crests); ``pinion_turns`` with ``wheel_turns`` (or ``rolled_in`` and ``tire_circumference_in``) and
    ``wheels`` (both, one held); ``ring_teeth`` and ``pinion_teeth``; ``vin``. ``latest_year`` is the newest
    model year that there can be.
    """
    newest = int(latest_year or attribute("years").high or 0)
    book = _Notebook({_spelled(name): value for name, value in saw.items() if value is not None}, newest)
    tool = str(book.saw.pop("tool", "tape"))
    lugs = book.take("lugs").get("lugs")
    steps: list[Callable[[], None]] = [
        partial(_lugs, book, lugs),
        *(partial(_studs, book, stem, tool) for stem in _STUDS),
        *(partial(_shaft, book, stem) for stem in _SHAFTS),
        partial(_turned, book),
        partial(_teeth, book),
        partial(_vin, book),
    ]
    for step in steps:
        book.attempt(step)
    for name in list(book.saw):
        book.attempt(partial(_own, book, name))
    facts, words = check_observations(book.facts)
    return Observed(facts, tuple(book.notes), (*book.faults, *words))


def _spelled(name: str) -> str:
    return name.strip().lower().replace("-", "_").replace("neighbour", "neighbor").replace("tyre", "tire")


def _lugs(book: _Notebook, lugs: Told | None) -> None:
    if lugs is not None:
        book.add("lugs", whole_number("lugs", lugs))


def _counted_lugs(book: _Notebook) -> int | None:
    counted = (f.value for f in book.facts if f.attribute == "lugs")
    return next((value for value in counted if isinstance(value, int)), None)


def _lengths(book: _Notebook, stem: str) -> list[tuple[str, float]]:
    """(name, length in mm) of one kind of entry in either unit."""
    found = []
    for unit in ("mm", "in"):
        for name, told in book.take(f"{stem}_{unit}").items():
            length = length_in_unit(told, unit)
            found.append((name, length if unit == "mm" else length * MM_PER_IN))
    return found


def _studs(book: _Notebook, stem: str, tool: str) -> None:
    measure, by_edges = _STUDS[stem]
    for name, length_mm in _lengths(book, stem):
        lugs = _counted_lugs(book)
        if lugs is None:
            if measure != OPPOSITE:
                raise BadInput(f"{name} alone gives no bolt circle", "Count the studs too.")
            book.add("bolt_circle_mm", length_mm)
            continue
        reading = read_circle(lugs, length_mm, measure, tool, by_edges)
        book.add("bolt_circle_mm", round(reading.circle_mm, 2), round(reading.sd_mm, 3))
        if len(reading.patterns) > 1:
            names = " from ".join(f"{p.lugs}x{p.circle_mm:g}" for p in reading.patterns[:2])
            book.notes.append(f"bolt circle: {names} cannot be told by this; {reading.advice}")
        elif not reading.patterns:
            book.notes.append(f"bolt circle {reading.circle_mm:.1f} mm: {reading.advice}")


def _shaft(book: _Notebook, stem: str) -> None:
    for name, length_mm in _lengths(book, stem):
        diameter = length_mm / MM_PER_IN
        if stem != "outer_spline_dia":
            book.add("shaft_dia_in", round(diameter, 4), CALIPER_SD_IN)
            continue
        candidates = spline_candidates(diameter)
        if not candidates:
            raise BadInput(f"{name} {diameter:.3f} in is no usual spline", "Count the splines instead.")
        best = candidates[0]
        coarse = f"{' or '.join(map(str, sorted(NEVER_BY_COUNT)))} wide ones"
        book.notes.append(
            f"{diameter:.3f} in over the splines is {best.teeth} fine ones; if there are {coarse}, count them"
        )
        if best.pitch == AXLE_PITCH:
            book.add("outer_splines", best.teeth, CALIPER_SD_IN * AXLE_PITCH)


def _turned(book: _Notebook) -> None:
    told = book.take(*_TURNS)
    if not told:
        return
    wheel_turns = _wheel_turns(told)
    if "pinion_turns" not in told or wheel_turns is None:
        raise BadInput("a ratio by turning needs both counts", "Give pinion_turns and wheel_turns.")
    wheels = str(told.get("wheels", "both")).strip().lower()
    if wheels not in _WHEELS:
        raise BadInput(f"wheels {wheels!r} is not known", "Say both (turned together) or one held (open differential).")
    method = _WHEELS[wheels]
    reading = ratio_by_turning(wheel_turns, parse_number(str(told["pinion_turns"])), method)
    book.add("ratio", round(reading.ratio, 4), round(max(reading.sd, 0.002), 4))
    near = sorted({round(r, 2) for r in reading.candidates})
    if len(near) > 1:
        book.notes.append(_more_turns(near, reading.ratio, method))
    if "wheels" not in told:
        book.notes.append("taken as both wheels turning; with one held on an open differential it is twice that")


def _wheel_turns(told: Mapping[str, Told]) -> float | None:
    if "wheel_turns" in told:
        return parse_number(str(told["wheel_turns"]))
    if "rolled_in" in told and "tire_circumference_in" in told:
        around = length_in_unit(told["tire_circumference_in"], "in")
        return length_in_unit(told["rolled_in"], "in") / around if around > 0.0 else None
    return None


def _more_turns(near: list[float], ratio: float, method: str) -> str:
    nearest = sorted(near, key=lambda r: abs(r - ratio))[:2]
    first, second = sorted(nearest)
    turns = turns_to_tell(first, second, method)
    advice = f"turn the wheel {turns} times" if turns else "count the teeth"
    return f"ratio: {first:.2f} from {second:.2f} cannot be told by this; {advice}"


def _teeth(book: _Notebook) -> None:
    told = book.take(*_TEETH)
    if not told:
        return
    if len(told) < len(_TEETH):
        raise BadInput("one tooth count gives no ratio", "Count both: ring_teeth and pinion_teeth.")
    ring, pinion = (whole_number(name, told[name]) for name in _TEETH)
    if pinion <= 0 or ring <= pinion:
        raise BadInput(f"{ring} ring teeth on {pinion} pinion teeth cannot be", "Count again, ring first.")
    book.add("ratio", round(ring / pinion, 4), _TEETH_SD)


def _vin(book: _Notebook) -> None:
    for told in book.take("vin").values():
        reading = read_vin(str(told), book.latest_year)
        years = reading.years
        if not reading.check_holds:
            book.notes.append("the vehicle number fails its check digit: read it again")
        if len(years) == 1:
            book.add("years", (years[0], years[0]))
            continue
        # One of them is right: said of the axle as alternatives, not as two measurements.
        book.facts.extend(Fact("years", (year, year), Known.INFERRED) for year in years)
        book.notes.append("the vehicle number leaves the model year open: " + " or ".join(map(str, years)))


def _own(book: _Notebook, name: str) -> None:
    """An attribute by its own name."""
    attribute_name, values = written(name, book.saw.pop(name))
    for value in values:
        book.add(attribute_name, value)
