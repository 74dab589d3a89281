"""What sellers said against what was measured: the differences kept, and what they say of sellers around here.

A user's own rate of error is shrunk towards the shipped one, as if he had begun with ``PRIOR_CLAIMS`` claims of the
shipped rate (the mean of a beta distribution), and counts only from ``ENOUGH`` claims on.
"""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime
from fnmatch import fnmatchcase
from typing import Any

from donorbase.attributes import NUMBERS, PAIRS, Attribute, attribute, attributes
from donorbase.errors import BadInput, NotFound
from donorbase.facts import Fact, Item, Value, axle_facts
from donorbase.identity.observations import observe
from donorbase.reference.odds import Rates, load_priors, load_rates
from donorbase.reference.wording import value_text
from donorbase.services.house import House
from donorbase.services.near import near_keys

ENOUGH = 5
"""Claims of one attribute from which the user's own rate counts."""
PRIOR_CLAIMS = 20.0
"""Claims that the shipped rate is worth: common practice."""
_SLACK_SD = 3.0
"""A measurement agrees with a claim within so many standard deviations of its tool."""
_OWN_RATES, _OFF = "own_rates", "off"


@dataclass(frozen=True, slots=True)
class Difference:
    """What was said of one attribute beside what was measured, as text with units."""

    attribute: str
    claimed: str
    measured: str
    agrees: bool


@dataclass(frozen=True, slots=True)
class OwnRate:
    """How often sellers were wrong in one attribute: ``wrong`` of ``claims``; ``rate`` is what counts now."""

    attribute: str
    claims: int
    wrong: int
    shipped: float
    rate: float
    counts: bool

    def as_json(self) -> dict[str, Any]:
        """Everything as plain data."""
        return asdict(self)


def record_claims(house: House, axle: str, said: Item, saw: Mapping[str, Any]) -> tuple[Difference, ...]:
    """Keep what a listing said of an axle beside what was measured on it, under a name for the axle.

    BadInput where nothing was both said and measured, or an entry cannot be used.
    """
    from donorbase.store.own import keep_claims

    observed = observe(saw)
    if observed.faults:
        raise BadInput("; ".join(observed.faults), "Mend these entries; `donorbase identify --names` lists them.")
    found = differences(tuple(axle_facts(said)), observed.facts)
    if not found:
        raise BadInput("nothing was both said and measured", "Measure something that the listing speaks of.")
    with house.writing() as connection:
        keep_claims(connection, axle, [asdict(one) for one in found], datetime.now(UTC))
    return found


def set_claims(house: House, axle: str, rows: Sequence[Mapping[str, Any]]) -> None:
    """Keep rows of claims of an axle in place of those kept before; none forgets them."""
    from donorbase.store import own

    if not rows and all(row["axle"] != axle for row in claims(house)):
        return
    with house.writing() as connection:
        if rows:
            own.keep_claims(connection, axle, [dict(row) for row in rows], datetime.now(UTC))
        else:
            own.forget_claims(connection, axle)


def differences(said: Sequence[Fact], measured: Sequence[Fact]) -> tuple[Difference, ...]:
    """For each attribute both said and measured, whether the two agree within the tool's error."""
    by_name = {fact.attribute: fact for fact in measured}
    return tuple(
        Difference(
            claim.attribute,
            value_text(claim.attribute, claim.value),
            value_text(claim.attribute, by_name[claim.attribute].value),
            _agree(attribute(claim.attribute), claim.value, by_name[claim.attribute]),
        )
        for claim in said
        if claim.attribute in by_name
    )


def _agree(known: Attribute, claimed: Value, measured: Fact) -> bool:
    found = measured.value
    if known.kind in PAIRS and isinstance(claimed, tuple) and isinstance(found, tuple):
        return (claimed[0] or 0) <= (found[0] or 0) and (found[1] or 9999) <= (claimed[1] or 9999)
    if known.kind in NUMBERS and not isinstance(claimed, str | tuple) and not isinstance(found, str | tuple):
        sd = measured.sd if measured.sd is not None else known.sd
        return abs(float(claimed) - float(found)) <= _SLACK_SD * sd + 1e-9
    return claimed == found


def claims(house: House) -> tuple[dict[str, Any], ...]:
    """Every difference kept, oldest first."""
    return tuple(house.rows()["claim"])


def forget_claims(house: House, axle: str) -> None:
    """Forget what was kept of an axle; NotFound names the near ones."""
    from donorbase.store import own

    names = {row["axle"] for row in claims(house)}
    if axle not in names:
        near = near_keys(axle, names)
        raise NotFound(
            f"no claims are kept of {axle!r}",
            f"Near it: {', '.join(near)}." if near else "`donorbase claims list` shows what is kept.",
        )
    with house.writing() as connection:
        own.forget_claims(connection, axle)


def own_rates(house: House) -> tuple[OwnRate, ...]:
    """The sellers' rates of error around the user, attribute by attribute, those with most claims first."""
    counted: dict[str, list[bool]] = {}
    for row in claims(house):
        counted.setdefault(row["attribute"], []).append(bool(row["agrees"]))
    found = [_own_rate(name, agreed) for name, agreed in counted.items() if name in attributes()]
    return tuple(sorted(found, key=lambda rate: (-rate.claims, rate.attribute)))


def _own_rate(name: str, agreed: Sequence[bool]) -> OwnRate:
    shipped, wrong = attribute(name).seller_error, agreed.count(False)
    counts = len(agreed) >= ENOUGH
    shrunk = (wrong + PRIOR_CLAIMS * shipped) / (len(agreed) + PRIOR_CLAIMS)
    return OwnRate(name, len(agreed), wrong, shipped, shrunk if counts else shipped, counts)


def switch_own_rates(house: House, on: bool) -> None:
    """Let the user's own rates count, or not."""
    from donorbase.store import settings

    with house.writing() as connection:
        settings.set_setting(connection, _OWN_RATES, "" if on else _OFF)
        settings.touch(connection)


def own_rates_count(house: House) -> bool:
    """Whether the user's own rates are switched on."""
    return bool(house.rows()[_OWN_RATES][0]["value"] != _OFF)


def rates_of(house: House) -> Rates:
    """The rates to identify by: the shipped ones with what the user has found out over them."""
    priors = own_priors(house)
    own = {r.attribute: r.rate for r in own_rates(house) if r.counts} if own_rates_count(house) else {}
    return replace(load_rates(), seller_error=own, own_prior=priors) if own or priors else load_rates()


def own_priors(house: House) -> dict[str, float]:
    """The user's weights by pattern of variant keys; ``none`` is the chance of none of these."""
    return {row["pattern"]: float(row["weight"]) for row in house.rows()["own_prior"]}


def set_prior(house: House, pattern: str, weight: float | None) -> None:
    """Set how common a kind of axle is, or forget it (None). BadInput for a pattern that no variant has."""
    from donorbase.store import own

    if weight is None and pattern not in own_priors(house):
        raise NotFound(f"no prior of yours is kept for {pattern!r}", "`donorbase priors list` shows them.")
    if pattern != "none" and not any(fnmatchcase(key, pattern) for key in house.catalogue().variants):
        near = near_keys(pattern.rstrip("*"), house.catalogue().variants)
        raise BadInput(f"no variant is called {pattern!r}", f"Near it: {', '.join(near)}; * stands for any text.")
    if weight is not None:
        load_priors().overruled({pattern: weight})
    with house.writing() as connection:
        own.set_prior(connection, pattern, weight)
