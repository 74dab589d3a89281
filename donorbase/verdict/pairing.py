"""The best front and rear together, out of many of each.

A pair is never better than either end by itself, nor than what the pair asks can be: both give a bound that is
cheap to reckon. Pairs are judged in full only where their bound could still enter the list, so that the answers are
those of an exhaustive search.
"""

import heapq
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from donorbase.reference.judging import Judging
from donorbase.verdict.axle import Weighed
from donorbase.verdict.pair import Spread, attribute_of, chance_of, state_of
from donorbase.verdict.spec import Build, Level, Requirement
from donorbase.verdict.together import judge_apart, judge_together, side_of
from donorbase.verdict.verdicts import Call, ListingVerdict, State, total_of

Rank = tuple[int, int, float]
"""Rank of the verdict, minus tenths of the chance, likely landed cost in USD: the least is the best."""
Saving = Callable[[Weighed, Weighed], float]
"""USD that one drive past both saves against two trips; never more than the cheaper trip."""

_TRIP = "travel"
_FIRST = 40
"""Of each end, so many of the best by themselves are paired first: what they reach shuts out most of the rest."""


@dataclass(frozen=True, slots=True)
class Pair:
    """A front and a rear, by their places in what was given, and the verdict of both."""

    front: int
    rear: int
    verdict: ListingVerdict

    @property
    def rank(self) -> Rank:
        """What pairs are ordered by."""
        money = self.verdict.money
        return rank_of(self.verdict.verdict.rank, self.verdict.chance, money.total.likely if money.total else 0.0)


def rank_of(verdict: int, chance: float, likely_usd: float) -> Rank:
    """The order of pairs: by verdict, by chance in tenths, by likely cost.

    Chances that differ by less than a tenth do not outweigh money: they are no surer than that.
    """
    return verdict, -int(chance * 10 + 1e-9), round(likely_usd, 2)


def no_saving(front: Weighed, rear: Weighed) -> float:
    """Two trips, always."""
    return 0.0


def best_pairs(
    fronts: Sequence[Weighed],
    rears: Sequence[Weighed],
    build: Build,
    rules: Judging,
    count: int = 10,
    saving: Saving = no_saving,
) -> list[Pair]:
    """The ``count`` best pairs that may fit, best first; those that do not fit are left out.

    A front and a rear of one listing are judged as one offer, all others as two.
    """
    search = _Search(build, rules, count, saving)
    ends = [[search.end_of(number, w) for number, w in enumerate(side)] for side in (fronts, rears)]
    for front, rear in _of_one_offer(*ends):
        search.judge(front, rear)
    first = [sorted(side, key=lambda e: rank_of(e.verdict, e.chance, e.likely_usd))[:_FIRST] for side in ends]
    for part in (first, ends):
        for front, rear in search.worth_judging(*part):
            search.judge(front, rear)
    return search.found()


@dataclass(frozen=True, slots=True)
class _End:
    """One axle as the search sees it: its bounds, and what each requirement of the pair sees of it."""

    number: int
    weighed: Weighed
    verdict: int
    chance: float
    likely_usd: float
    trip_usd: float
    faces: tuple[int, ...]
    """For each requirement of the pair, a number that axles alike in what it asks of them share."""
    spreads: tuple[Spread, ...]
    counted: frozenset[str]


def _of_one_offer(fronts: Iterable[_End], rears: Iterable[_End]) -> Iterator[tuple[_End, _End]]:
    by_offer: dict[int, list[_End]] = defaultdict(list)
    for rear in rears:
        by_offer[id(rear.weighed.prospect.reading)].append(rear)
    for front in fronts:
        for rear in by_offer[id(front.weighed.prospect.reading)]:
            yield front, rear


@dataclass(slots=True)
class _Search:
    """The best found so far, and what is known of how faces go together."""

    build: Build
    rules: Judging
    count: int
    saving: Saving
    # A heap of the worst first: ranks negated.
    _kept: list[tuple[tuple[float, ...], Pair]] = field(default_factory=list)
    _cures: frozenset[str] = frozenset()
    _judged: set[tuple[int, int]] = field(default_factory=set)
    _faces: dict[tuple[Spread, frozenset[str]], int] = field(default_factory=dict)
    _asked: dict[tuple[int, int, int], tuple[int, float]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        willing = {*self.build.work.planned, *self.build.work.accepted} - set(self.build.work.refused)
        self._cures = frozenset(cure.work for cure in self.rules.cures) & willing

    def end_of(self, number: int, weighed: Weighed) -> _End:
        """An axle as the search sees it."""
        verdict, side = weighed.verdict, side_of(weighed)
        lines = verdict.money.lines
        spreads = tuple(side.settled(attribute_of(r.subject)) for r in self.build.of_pair())
        counted = weighed.judged.counted & self._cures
        return _End(
            number=number,
            weighed=weighed,
            verdict=verdict.verdict.rank,
            chance=weighed.judged.chance * (0.5 if weighed.hazards else 1.0),
            # Where no price is known at all the sum is not shown, so that it cannot bound anything.
            likely_usd=total_of(lines).likely if verdict.money.total else 0.0,
            trip_usd=sum(line.cost.likely for line in lines if line.label == _TRIP),
            faces=tuple(self._faces.setdefault((spread, counted), len(self._faces)) for spread in spreads),
            spreads=spreads,
            counted=counted,
        )

    def found(self) -> list[Pair]:
        """What was kept, best first."""
        return sorted((pair for _, pair in self._kept), key=lambda pair: (pair.rank, pair.front, pair.rear))

    def judge(self, front: _End, rear: _End) -> None:
        """Judge a pair in full, and keep it where it is among the best."""
        if Call.NO.rank in (front.verdict, rear.verdict) or (front.number, rear.number) in self._judged:
            return
        self._judged.add((front.number, rear.number))
        pair = Pair(front.number, rear.number, self._verdict(front.weighed, rear.weighed))
        if pair.verdict.verdict is Call.NO:
            return
        order = tuple(-part for part in (*pair.rank, pair.front, pair.rear))
        (heapq.heappushpop if self._full else heapq.heappush)(self._kept, (order, pair))

    def _verdict(self, front: Weighed, rear: Weighed) -> ListingVerdict:
        if front.prospect.reading is rear.prospect.reading:
            items = (front.verdict, rear.verdict)
            return judge_together(front, rear, self.build, items, self.rules)
        return judge_apart(front, rear, self.build, self.rules, self.saving(front, rear))

    @property
    def _full(self) -> bool:
        return len(self._kept) >= self.count

    @property
    def _worst(self) -> Rank:
        """What a pair must beat, or equal."""
        if not self._full:
            return Call.NO.rank - 1, 0, float("inf")
        verdict, tenths, usd = (-part for part in self._kept[0][0][:3])
        return int(verdict), int(tenths), usd

    def worth_judging(self, fronts: Sequence[_End], rears: Sequence[_End]) -> Iterator[tuple[_End, _End]]:
        """Pairs of two offers whose bound is no worse than the worst kept when they come up."""
        groups: dict[tuple[int, tuple[int, ...]], list[_End]] = defaultdict(list)
        for rear in sorted(rears, key=lambda e: (e.verdict, -e.chance, e.likely_usd)):
            groups[rear.verdict, rear.faces].append(rear)
        for front in sorted(fronts, key=lambda e: (e.verdict, -e.chance, e.likely_usd)):
            for group in groups.values():
                yield from self._of_group(front, group)

    def _of_group(self, front: _End, group: Sequence[_End]) -> Iterator[tuple[_End, _End]]:
        """Those of rears which differ in chance and money only, in the order of their chances."""
        worst = self._worst
        if max(front.verdict, group[0].verdict) > worst[0]:
            return
        asked, share = self._at_best(front, group[0])
        verdict, chance = max(front.verdict, group[0].verdict, asked), front.chance * share
        if verdict > worst[0]:
            return
        for rear in group:
            bound = rank_of(verdict, chance * rear.chance, self._least_usd(front, rear))
            if bound[:2] > worst[:2]:
                return
            if bound <= worst and front.weighed.prospect.reading is not rear.weighed.prospect.reading:
                yield front, rear
                worst = self._worst

    def _least_usd(self, front: _End, rear: _End) -> float:
        both = front.likely_usd + rear.likely_usd
        return both - min(front.trip_usd, rear.trip_usd) if self.saving is not no_saving else both

    def _at_best(self, front: _End, rear: _End) -> tuple[int, float]:
        """The best verdict that the requirements of the pair leave, and a chance not below theirs."""
        verdict, chance = 0, 1.0
        for number, requirement in enumerate(self.build.of_pair()):
            faces = number, front.faces[number], rear.faces[number]
            if faces not in self._asked:
                spreads = front.spreads[number], rear.spreads[number]
                self._asked[faces] = self._asks(requirement, *spreads, front.counted | rear.counted)
            least, share = self._asked[faces]
            verdict, chance = max(verdict, least), chance * share
        return verdict, chance

    def _asks(
        self, requirement: Requirement, front: Spread, rear: Spread, counted: frozenset[str]
    ) -> tuple[int, float]:
        chance = chance_of(requirement, front, rear)
        state = state_of(chance, self.rules)
        cures = {c.work for c in self.rules.cures if c.subject == requirement.subject} & self._cures
        share = 1.0 if cures and state is not State.MEETS else chance
        if state is State.MEETS or requirement.level is not Level.MUST or cures & set(self.build.work.planned):
            return 0, share
        if state is State.FAILS:
            return (Call.WITH_WORK if cures else Call.NO).rank, share
        return 0 if requirement.soft or cures & counted else Call.UNCLEAR.rank, share
