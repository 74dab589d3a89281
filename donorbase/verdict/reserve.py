"""What may be wrong with an axle beside all that is told, by the kind of donor it comes from, and what that costs."""

from collections.abc import Collection, Iterator

from donorbase.engineering.grade import recyclers_grade
from donorbase.reference.judging import Fault
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.signs import mentions
from donorbase.verdict.spec import Build
from donorbase.verdict.sums import Cost, HiddenFault

_KIND_WORDS = {
    "flood": "it was under water",
    "fire": "the donor burned",
    "mud": "it was run in mud",
    "struck": "the donor was struck or rolled",
    "high-miles": "grade C, over 200,000 miles",
    "no-miles": "grade X, its miles are not told",
    "stored-open": "it lay open or outside",
    "worked-hard": "it was worked hard",
}


def hidden_faults(prospect: Prospect, build: Build, counted: Collection[str]) -> tuple[HiddenFault, ...]:
    """The hidden faults that would cost something: what planned or counted work makes good anyway is left out."""
    done = {*build.work.planned, *counted}
    kinds = tuple(donor_kinds(prospect))
    faults = (f for f in prospect.rules.faults if f.end in ("", prospect.end) and not done & set(f.spared_by))
    return tuple(_hidden(fault, kinds, prospect) for fault in faults)


def donor_kinds(prospect: Prospect) -> Iterator[str]:
    """The kinds of donor that the text tells of."""
    rules, text = prospect.rules, prospect.reading.text
    marked = {name for name, _ in prospect.marks()}
    yield from (kind for kind, names in rules.donor_kinds.marks.items() if marked & set(names))
    yield from (kind for kind, words in rules.donor_kinds.words.items() if mentions(text, words))
    miles = prospect.reading.get("mileage_mi")
    grade = recyclers_grade(float(miles) if isinstance(miles, (int, float)) else None, None)
    yield from {"C": ("high-miles",), "X": ("no-miles",)}.get(grade, ())


def _hidden(fault: Fault, kinds: tuple[str, ...], prospect: Prospect) -> HiddenFault:
    low, high = fault.cost_usd
    basis = prospect.rules.donor_kinds.basis
    cost = Cost(low, (low + high) / 2, high)
    if fault.unsaid in {str(v) for v in prospect.all("defects")}:
        return HiddenFault(fault.name, 1.0, cost, "as stated", basis)
    usual = prospect.rules.unsaid[fault.unsaid]
    kind = max(kinds, key=lambda k: fault.chance.get(k, 0.0), default="")
    chance = max(usual, fault.chance.get(kind, 0.0))
    why = _KIND_WORDS[kind] if chance > usual else "as of any axle for sale"
    return HiddenFault(fault.name, chance, cost, why, basis)
