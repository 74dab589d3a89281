"""The desk at which a listing is read, identified and judged: the catalogue and the words, ready for use."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache, cached_property
from typing import TYPE_CHECKING, Any, ClassVar

from donorbase.facts import Fact, Item, Reading
from donorbase.services.house import House, lexicon_in, words_in

# Each task imports what it takes when it is asked for: reading is done before the judging would be imported.
if TYPE_CHECKING:
    from donorbase.identity.identification import Conflict, Identification, Question
    from donorbase.reading.lexicon import Lexicon
    from donorbase.reference.catalogue import Catalogue
    from donorbase.reference.odds import Rates
    from donorbase.reference.words import Word
    from donorbase.verdict.spec import Build
    from donorbase.verdict.verdicts import ListingVerdict


@dataclass(frozen=True, slots=True)
class _Held:
    """Where the parts of a desk come from."""

    catalogue: "Callable[[], Catalogue]"
    words: "Callable[[], tuple[Word, ...]]"
    lexicon: "Callable[[], Lexicon]"
    rates: "Callable[[], Rates]"


RAW_MEASUREMENTS = {
    "stud_across_mm": "opposite studs, centre to centre (or stud_across_in)",
    "stud_outside_inside_mm": "outside of one stud to the inside of the opposite one",
    "stud_neighbour_mm": "neighbouring studs, centre to centre; give lugs too",
    "outer_spline_dia_in": "outer shaft over the splines, by caliper",
    "pinion_turns": "turns of the pinion, with wheel_turns, and wheels=both or one held",
    "ring_teeth": "teeth of the ring gear, with pinion_teeth",
    "tire_circumference_in": "round the tire, with rolled_in and pinion_turns",
    "vin": "the donor's vehicle number",
}
"""What ``identify`` takes as it is measured, beside every attribute by its own name."""


@dataclass(frozen=True, slots=True)
class Identified:
    """An axle as identified: what was taken as known, the probabilities, what does not go together, what next."""

    facts: tuple[Fact, ...]
    identification: "Identification"
    conflicts: "tuple[Conflict, ...]"
    next: "tuple[Question, ...]"
    notes: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """``identification`` and ``next``, and where there are any: conflicts, notes, faults."""
        found: dict[str, Any] = {
            "identification": self.identification.as_json(),
            "next": [question.as_json() for question in self.next],
        }
        if self.conflicts:
            found["conflicts"] = [{"what": c.what, "causes": list(c.causes), "tell": c.tell} for c in self.conflicts]
        told = {"notes": list(self.notes), "faults": list(self.faults)}
        return found | {name: lines for name, lines in told.items() if lines}


@dataclass(frozen=True, slots=True)
class Checked:
    """A listing as read and as judged."""

    reading: Reading
    verdict: "ListingVerdict"
    cautioning: Callable[[], tuple[str, ...]] = field(default=tuple, compare=False, repr=False)

    @property
    def cautions(self) -> tuple[str, ...]:
        """What to mind of what is on offer and of the work it brings, found when it is first asked for."""
        return self.cautioning()

    def as_json(self) -> dict[str, Any]:
        """The reading, the verdict on it, and what to mind."""
        return self.reading.as_json() | self.verdict.full_json() | {"cautions": list(self.cautions)}


class Desk:
    """A catalogue and words, the shipped ones or a user's, and the year that "this year" means.

    Each is made ready when it is first asked for: to read takes no catalogue, and to look at one no words.
    """

    SETTLED: ClassVar[float] = 0.95
    """Probability from which an axle counts as identified."""

    def __init__(self, this_year: int, held: "_Held") -> None:
        self.this_year, self._held = this_year, held

    @classmethod
    def of_house(cls, house: House, this_year: int) -> "Desk":
        """A desk with what a user's database holds; words taught later are not on it."""
        rows = house.rows()

        def rates() -> "Rates":
            from donorbase.services.ledger import rates_of

            return rates_of(house)

        return cls(this_year, _Held(house.catalogue, lambda: words_in(rows), lambda: lexicon_in(rows), rates))

    @classmethod
    def as_shipped(cls, this_year: int) -> "Desk":
        """A desk with the shipped catalogue and words, without a database."""
        from donorbase.reading.lexicon import Lexicon
        from donorbase.reference.load import load_catalogue
        from donorbase.reference.odds import load_rates
        from donorbase.reference.words import load_words

        return cls(this_year, _Held(load_catalogue, load_words, lambda: Lexicon.build(load_words()), load_rates))

    @cached_property
    def catalogue(self) -> "Catalogue":
        """The axles on record."""
        return self._held.catalogue()

    @cached_property
    def words(self) -> "tuple[Word, ...]":
        """The words of the trade."""
        return self._held.words()

    @cached_property
    def lexicon(self) -> "Lexicon":
        """The words, arranged for reading."""
        return self._held.lexicon()

    @cached_property
    def rates(self) -> "Rates":
        """How often sellers, tools and the catalogue err."""
        return self._held.rates()

    def read(self, text: str) -> Reading:
        """What the listing says."""
        from donorbase.reading.read import read_listing

        return read_listing(text, self.lexicon, self.this_year)

    def trace(self, text: str) -> list[tuple[str, list[str]]]:
        """The steps of the reading, each with what came out of it."""
        from donorbase.reading.read import trace

        return trace(text, self.lexicon, self.this_year)

    def identify(self, saw: Mapping[str, Any], build: "Build | None" = None) -> Identified:
        """Which axle it is by what was seen or measured; faulty entries are told and the rest is used.

        With a build, what to look at next is what may change the verdict on it.
        """
        from donorbase.identity.observations import observe

        observed = observe(saw)
        notes, faults = tuple(observed.notes), tuple(observed.faults)
        return self.identify_facts(observed.facts, notes, faults, build)

    def identify_facts(
        self,
        facts: tuple[Fact, ...],
        notes: tuple[str, ...] = (),
        faults: tuple[str, ...] = (),
        build: "Build | None" = None,
    ) -> Identified:
        """Which axle it is by facts from anywhere."""
        from donorbase.identity.conflicts import conflicts
        from donorbase.identity.identify import identify
        from donorbase.identity.questions import questions

        found = identify(facts, self.catalogue, rates=self.rates)
        told = tuple(conflicts(facts, self.catalogue, found, self.rates))
        best = questions(facts, self.catalogue, found, rates=self.rates)
        if build is None:
            return Identified(facts, found, told, best, notes, faults)
        from donorbase.verdict.judge import decision_on

        decide = decision_on(build, self.catalogue, self.rates)
        deciding = questions(facts, self.catalogue, found, decide=decide, rates=self.rates)
        idle = [q.attribute for q in best if q.attribute not in {d.attribute for d in deciding}]
        idly = (f"by itself none of these would change the verdict now: {', '.join(idle[:8])}",) if idle else ()
        return Identified(facts, found, told, deciding, (*notes, *idly), faults)

    def axles(self, item: Item) -> tuple[Identified, ...]:
        """The axle of an item, or the front and the rear of a whole vehicle, as identified."""
        from donorbase.identity.axles import axles_of

        return tuple(self.identify_facts(facts) for facts in axles_of(item))

    def check(self, text: str, build: "Build", distance_mi: float | None = None) -> Checked:
        """The listing, read and judged against a build; the distance is one way."""
        return self.judged(self.read(text), build, distance_mi)

    def judged(self, reading: Reading, build: "Build", distance_mi: float | None = None) -> Checked:
        """A reading judged against a build, with what to mind; the distance is one way."""
        from donorbase.verdict.judge import judge

        verdict = judge(build, reading, self.catalogue, distance_mi=distance_mi, rates=self.rates)

        def cautioning() -> tuple[str, ...]:
            from donorbase.reference.judging import judging
            from donorbase.verdict.cautions import cautions_on
            from donorbase.verdict.prospect import prospects_of

            items = {verdict.items[number].item for number in verdict.chosen}
            prospects = (
                prospect
                for number in sorted(items)
                for prospect in prospects_of(
                    number, reading.items[number], reading, self.catalogue, judging(), self.rates
                )
            )
            return cautions_on(verdict, prospects, build)

        return Checked(reading, verdict, cache(cautioning))
