"""Counting how often the identification is right, and how often of the times that it says so."""

import random
from dataclasses import dataclass, field, replace

from ideal_observer import IdealObserver
from simulated_axles import Cup, Simulated

from donorbase.identity.identify import identify
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.load import load_catalogue

BINS = 10
NONE_SHARE = 0.03
SURE = 0.99
"""Observations suffice where an observer who knows the dice is this sure: no better one is possible."""


@dataclass
class Tally:
    """Reliability of the likeliest candidate, and how often it is right."""

    bins: list[list[float]] = field(default_factory=lambda: [[0.0, 0.0, 0.0] for _ in range(BINS)])
    enough: list[bool] = field(default_factory=list)
    none_enough: list[bool] = field(default_factory=list)
    none_all: list[bool] = field(default_factory=list)
    called_none: list[bool] = field(default_factory=list)
    none_said: float = 0.0
    ideal_right: list[bool] = field(default_factory=list)

    def add(self, axle: Simulated, catalogue: Catalogue, ideal: IdealObserver) -> None:
        """Identify one axle and keep the outcome."""
        found = identify(axle.facts, catalogue)
        right = found.best.variant == axle.key
        row = self.bins[min(BINS - 1, int(found.best.probability * BINS))]
        row[0] += 1.0
        row[1] += found.best.probability
        row[2] += right
        self.none_said += found.none
        best, sure = max(ideal.posterior(axle.facts).items(), key=lambda pair: pair[1])
        self.ideal_right.append(best == axle.key)
        if axle.key is None:
            self.none_all.append(right)
        if sure >= SURE:
            (self.none_enough if best is None else self.enough).append(right)
        if found.best.variant is None:
            self.called_none.append(axle.key is None)

    @property
    def count(self) -> float:
        """How many axles were asked about."""
        return sum(row[0] for row in self.bins)

    def calibration_error(self) -> float:
        """Expected calibration error: |said - right| averaged over the axles."""
        return sum(abs(said - right) for _, said, right in self.bins) / self.count


def share(of: list[bool]) -> float:
    """The share of the true ones."""
    return sum(of) / len(of)


def tally(count: int, seed: int, worlds: int, none_share: float = NONE_SHARE) -> Tally:
    """That many axles out of several worlds of sellers, each with rates of its own."""
    catalogue, found = load_catalogue(), Tally()
    for world in range(worlds):
        cup = Cup(catalogue, seed + world)
        ideal = IdealObserver(cup, none_share)
        for axle in cup.axles(count // worlds, none_share):
            found.add(axle, catalogue, ideal)
    return found


def tally_of_none(count: int, seed: int) -> Tally:
    """Only axles that the catalogue does not hold."""
    catalogue, found = load_catalogue(), Tally()
    cup = Cup(catalogue, seed)
    ideal = IdealObserver(cup, NONE_SHARE)
    for axle in cup.axles(count, 1.0):
        found.add(axle, catalogue, ideal)
    return found


def tally_of_held_out(count: int, seed: int, families: int) -> Tally:
    """Axles of whole families, each taken out of the catalogue before it is asked."""
    catalogue, found = load_catalogue(), Tally()
    for key in random.Random(seed).sample(sorted(catalogue.families), families):
        left = {k: v for k, v in catalogue.variants.items() if v.family.key != key}
        cup = Cup(catalogue, seed)
        cup.variants = [v for v in cup.variants if v.family.key == key]
        cup.weights = [1.0] * len(cup.variants)
        without = replace(catalogue, variants=left)
        ideal = IdealObserver(Cup(without, seed), NONE_SHARE)
        for axle in cup.axles(count // families, 0.0):
            found.add(replace(axle, key=None), without, ideal)
    return found
