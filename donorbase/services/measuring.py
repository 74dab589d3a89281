"""What was measured on a part of the shelf, judged by the wear limits of the catalogue and kept with its day."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from donorbase.errors import BadInput
from donorbase.reference.catalogue import WearPoint
from donorbase.reference.measures import Measure, measure_named
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.pulling import note_event
from donorbase.services.shelf import Part, find_part
from donorbase.shelf.limits import Judgement, judge_amount
from donorbase.store import shelf as stored


@dataclass(frozen=True, slots=True)
class Measured:
    """A part, what was measured on it in the unit of the measure, and how that stands to its limit."""

    part: Part
    measure: Measure
    amount: float
    judgement: Judgement

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        told = {"tag": self.part.tag, "measure": self.measure.measure, "amount": self.amount, "unit": self.measure.unit}
        return told | {"judged": self.judgement.state, "because": list(self.judgement.because)}


def measure_part(
    house: House, tag: str, word: str, text: str, when: Occasion, *, instrument: str = "", cast: str | None = None
) -> Measured:
    """Keep a reading of a part and judge it; ``cast`` is the limit read off the part itself.

    Every reading stays. BadInput where nothing of that name is measured on such a part.
    """
    catalogue = house.catalogue()
    with house.keeping() as connection:
        part = find_part(connection, tag)
        measure = measure_named(word, part.about.wear)
        amount, limit = measure.parse(text), None if cast is None else measure.parse(cast)
        if limit is not None and not measure.cast:
            raise BadInput(f"no limit for {word} is cast on a part", "Leave --cast out.")
        for read in (amount, limit):
            _refuse_unbelievable(read, measure, catalogue.wear)
        judged = judge_amount(amount, measure, catalogue.wear, catalogue.variants.get(part.axle or ""), limit)
        after = {word: f"{amount:g} {measure.unit}"}
        event = note_event(connection, part.id, "measured", when, after=after)
        row = {"part_id": part.id, "event_id": event, "measure": word, "amount": amount, "unit": measure.unit}
        row |= {"instrument": instrument.strip(), "cast_limit": limit, "judged": judged.state}
        stored.add_reading(connection, row | {"because": "\n".join(judged.because)})
    return Measured(part, measure, amount, judged)


def _refuse_unbelievable(amount: float | None, measure: Measure, points: Iterable[WearPoint]) -> None:
    """BadInput for a length that no such part has, as when millimetres were meant and a bare number taken for inches.

    Such is one over an inch and over three times the greatest limit on record: common practice.
    """
    limits = [limit for point in points if measure.is_of(point) for limit in measure.limits(point) or ()]
    most = max(1.0, 3 * max(limits, default=0.0))
    if amount is not None and measure.unit == "in" and amount > most:
        raise BadInput(
            f"{amount:g} in cannot be {measure.title}",
            f"Say the unit: a bare number is inches; {amount:g} mm is written {amount:g}mm.",
        )
