"""``data/rates.toml`` and ``data/priors.toml`` -> how far words and figures are trusted, and how common each
axle is."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from fnmatch import fnmatchcase
from functools import cache
from typing import Any

from donorbase.attributes import Attribute
from donorbase.errors import BadData
from donorbase.facts import Known
from donorbase.shipped import data_dir

_MOST = 0.5
"""No statement is held to be wrong more often than a coin."""


@dataclass(frozen=True, slots=True)
class Rates:
    """Chances of error; probabilities in 0..1, standard deviations in the unit of the attribute.

    ``seller_error`` holds a user's own rates by attribute (from his ledger of claimed against measured);
    they stand in for those of ``attributes.toml``. ``own_prior`` holds his weights by variant pattern over
    those of ``priors.toml``. ``none_differs``: how often an axle outside the catalogue
    differs from its nearest relative in a figure of its design, ``none_differs_otherwise`` in anything else.
    ``told_apart``: who states both attributes errs so many times as often. ``asking_min``: minutes that any
    question costs beside its own trouble.
    """

    known: Mapping[Known, tuple[float, float]]
    doubt: Mapping[str, float]
    stated_sd: Mapping[str, float]
    spread: Mapping[str, float]
    changed_to: Mapping[str, Mapping[str, float]]
    none_differs: float
    none_differs_otherwise: float
    donor_wrong: float
    asking_min: float
    told_apart: Mapping[str, tuple[str, float]] = field(default_factory=dict)
    seller_error: Mapping[str, float] = field(default_factory=dict)
    own_prior: Mapping[str, float] = field(default_factory=dict)

    def error(self, attribute: Attribute, known: Known) -> float:
        """The chance that a fact known in that way is wrong."""
        times, plus = self.known[known]
        if known is Known.MEASURED:
            return attribute.miscount or plus
        stated = self.seller_error.get(attribute.name, attribute.seller_error) or _UNRATED
        return min(_MOST, stated * times + plus)


_UNRATED = 0.05
"""A seller's error where an attribute has no rate of its own: common practice."""


@dataclass(frozen=True, slots=True)
class Priors:
    """How common each axle is: ``weight`` of one model year by variant pattern, the last match counts."""

    none_of_these: float
    full_from: int
    half_life_years: float
    weight: Mapping[str, float]

    def of_year(self, year: int) -> float:
        """The share of that model year still to be found, 1 for late years."""
        return float(min(1.0, 2.0 ** ((year - self.full_from) / self.half_life_years)))

    def of_variant(self, key: str) -> float:
        """The weight of one model year of a variant; 1 where no pattern matches."""
        matching = [weight for pattern, weight in self.weight.items() if fnmatchcase(key, pattern)]
        return matching[-1] if matching else 1.0

    def overruled(self, own: Mapping[str, float]) -> "Priors":
        """The same with a user's own patterns over them; the key ``none`` sets the chance of none of
        these."""
        mine = {key: value for key, value in own.items() if key != "none"}
        # His own come last, so that they count.
        weight = {**{key: value for key, value in self.weight.items() if key not in mine}, **mine}
        none = own.get("none", self.none_of_these)
        if not 0.0 < none < 1.0 or any(value <= 0.0 for value in weight.values()):
            raise BadData("priors must be positive, and that of none of these below 1", [repr(dict(own))])
        return Priors(none, self.full_from, self.half_life_years, weight)


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads((data_dir() / name).read_text("utf-8"))


@cache
def load_rates() -> Rates:
    """The shipped rates."""
    row = _read("rates.toml")
    try:
        return Rates(
            known={Known(word): (given["times"], given["plus"]) for word, given in row["known"].items()},
            doubt=row["doubt"],
            stated_sd=row["stated_sd"],
            spread=row["spread"],
            changed_to=row["changed_to"],
            none_differs=row["none"]["differs"],
            none_differs_otherwise=row["none"]["differs_otherwise"],
            donor_wrong=row["donor"]["wrong"],
            asking_min=row["asking"]["minutes"],
            told_apart={name: (pair["with"], pair["times"]) for name, pair in row["told_apart"].items()},
        )
    except (KeyError, ValueError) as wrong:
        raise BadData("rates.toml cannot be read", [repr(wrong)]) from wrong


@cache
def load_priors() -> Priors:
    """The shipped priors."""
    row = _read("priors.toml")
    survival = row["survival"]
    return Priors(
        row["none_of_these"], survival["full_from"], survival["half_life_years"], row["weight"],
    )  # fmt: skip
