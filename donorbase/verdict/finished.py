"""What an offer comes to once it is in the state that the build wants: musts met, planned work done, parts bought.

A verdict counts no planned work, for it is done whatever is bought. Beside one another a complete axle, a bare
housing and a whole truck are told apart by just that: what one has already, another still needs.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from donorbase.verdict.computed import wanted_ratio
from donorbase.verdict.condition import same
from donorbase.verdict.cures import bought_parts
from donorbase.verdict.money import again, hours_line
from donorbase.verdict.prices import part_lines, price_of_work
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.signs import mentions
from donorbase.verdict.spec import Build
from donorbase.verdict.subjects import subject_of
from donorbase.verdict.sums import Landed, Line
from donorbase.verdict.verdicts import Call, ItemVerdict, ListingVerdict, State


@dataclass(frozen=True, slots=True)
class Finished:
    """The sum to the finished state, the hours of work (low, high), and the planned work that it is spared.

    ``reachable`` is false where a must fails that no work makes good: then the sum leads nowhere.
    """

    money: Landed
    hours: tuple[float, float]
    spared: tuple[str, ...]
    reachable: bool


def finished(build: Build, verdict: ListingVerdict) -> Finished:
    """The axle, or the pair, that a verdict speaks of brought to the finished state."""
    chosen = [verdict.items[number] for number in verdict.chosen]
    lines, hours = list(verdict.money.lines), [task.labor_h for task in verdict.work if not task.planned]
    spared: list[str] = []
    done: set[str] = set()
    for item in chosen:
        for word in build.work.planned:
            if word in done or item.prospect is None:
                continue
            if not needs(word, item, item.prospect, build):
                spared.append(word)
                continue
            done |= {word} & item.prospect.rules.finish.of_a_vehicle
            found, labor = _planned(word, item.prospect, build, ends=len(chosen))
            lines += found
            hours.append(labor)
    known = [pair for pair in hours if pair]
    total = (sum(low for low, _ in known), sum(high for _, high in known))
    reachable = bool(chosen) and (verdict.verdict is not Call.NO or verdict.money_alone)
    return Finished(again(verdict.money, lines, build), total, tuple(dict.fromkeys(spared)), reachable)


def needs(word: str, item: ItemVerdict, prospect: Prospect, build: Build) -> bool:
    """Whether planned work still has to be done on this axle."""
    rules = prospect.rules.finish
    if word in rules.of_a_vehicle:
        return prospect.kind == "vehicle" or (word == "pull-from-vehicle" and _still_in(prospect))
    if word == "buy-missing-parts":
        return bool(bought_parts(prospect, build))
    if word == "regear":
        return not _geared(prospect, build)
    if word in rules.knuckle:
        return prospect.end == "front" and prospect.overall("knuckle").best in (rules.knuckle[word], None)
    return word not in rules.only_where_it_fails or not _has_it(word, item, prospect)


def _still_in(prospect: Prospect) -> bool:
    """Whether the buyer takes it out of its donor himself."""
    return mentions(prospect.reading.text, prospect.rules.finish.still_in)


def _geared(prospect: Prospect, build: Build) -> bool:
    """Whether the wanted ratio is in it, as plainly stated."""
    wanted, found = wanted_ratio(build)[0], prospect.all("ratio")
    return bool(wanted and prospect.plainly("ratio")) and all(
        same(float(r), wanted, subject_of("ratio")) for r in found if wanted and isinstance(r, (int, float))
    )


def _has_it(word: str, item: ItemVerdict, prospect: Prospect) -> bool:
    """Whether all that the work is there for is met as it is; where the build asks nothing of it, it is wanted."""
    subjects = {cure.subject for cure in prospect.rules.cures if cure.work == word}
    asked = [f for f in item.findings if f.requirement.subject in subjects]
    return bool(asked) and all(finding.state is State.MEETS for finding in asked)


def _planned(
    word: str, prospect: Prospect, build: Build, *, ends: int
) -> tuple[list[Line], tuple[float, float] | None]:
    """The lines of planned work, of a pair called by its end, and the hours."""
    cost, labor, source = price_of_work(word, prospect, build)
    work = prospect.catalogue.works.get(word)
    title = f"{prospect.end}: {work.title if work else word}" if ends > 1 else work.title if work else word
    lines = [Line(f"{title} (planned)", cost, source), *_hours(title, labor, build)]
    if word == "buy-missing-parts":
        lines += part_lines(bought_parts(prospect, build), prospect, build)
    return lines, labor


def _hours(title: str, labor: tuple[float, float] | None, build: Build) -> Iterator[Line]:
    if build.money.hour_usd and labor:
        yield hours_line(title, labor, build.money.hour_usd)
