"""What a reading and a verdict rest on, as short fingerprints: where one changed, it is due anew."""

import json
from hashlib import sha256
from typing import Any

from donorbase import __version__
from donorbase.services.house import House
from donorbase.shipped import data_fingerprint


def read_with(house: House, this_year: int) -> str:
    """What listings are read with: this release, the words, and the year that bounds the model years."""
    return _digest([__version__, this_year, data_fingerprint(), house.rows()["word"]])


def judged_with(house: House, this_year: int, build: str) -> str:
    """What verdicts on a kept build rest on: the reading, the user's rates and priors, the build's text."""
    return judged_by(house, this_year, house.build(build).toml)


def judged_by(house: House, this_year: int, toml: str) -> str:
    """What verdicts on a build of that text rest on."""
    rows = house.rows()
    own = [rows[name] for name in ("own_prior", "claim", "own_rates")]
    return _digest([read_with(house, this_year), own, toml])


def of_corrections(rows: list[dict[str, Any]]) -> str:
    """What corrections add to that; nothing where there are none."""
    return f"+{_digest(rows)}" if rows else ""


def _digest(grounds: Any) -> str:
    return sha256(json.dumps(grounds, sort_keys=True).encode()).hexdigest()[:16]
