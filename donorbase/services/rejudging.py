"""Candidates judged that are due: never judged yet, or what their verdict rests on changed since.

The words, the catalogue, the user's rates, the build, a correction, a price: each of them makes a verdict due. What
comes out differently is an event of the candidate.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import Any

from donorbase.facts import Reading
from donorbase.services.builds import find_build
from donorbase.services.candidates import siblings
from donorbase.services.corrected import corrected, plain_text
from donorbase.services.desk import Checked, Desk
from donorbase.services.grounds import judged_with, of_corrections, read_with
from donorbase.services.house import House
from donorbase.store import candidates as stored
from donorbase.store import sightings
from donorbase.store.corrections import digest_of
from donorbase.store.reading_rows import ReadingRows
from donorbase.verdict.spec import Build
from donorbase.verdict.verdicts import ListingVerdict

AT_ONCE = 100
"""Candidates judged between two commits: what a Ctrl-C loses is at most so many verdicts, which are due again."""

Progress = Callable[[int], None]
"""Called with how many more were done."""


def unwatched(_: int) -> None:
    """Progress that nobody looks at."""


@dataclass(frozen=True, slots=True)
class Change:
    """A verdict that came out otherwise than before; ``before`` is None where there was none."""

    candidate_id: int
    build: str
    before: str | None
    after: str

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {"candidate": self.candidate_id, "build": self.build, "before": self.before, "after": self.after}


@dataclass(slots=True)
class Judgements:
    """How many candidates were judged, and the verdicts that are new or changed."""

    judged: int = 0
    changes: list[Change] = field(default_factory=list)

    @property
    def changed(self) -> tuple[Change, ...]:
        """Those that had another verdict before."""
        return tuple(change for change in self.changes if change.before is not None)


def read_anew(house: House, desk: Desk, progress: Progress = unwatched) -> int:
    """Read every text that was read with other words or by another release, corrections kept; how many there were."""
    with_, after, done = read_with(house, desk.this_year), 0, 0
    put_right = corrections_by_listing(house)
    while True:
        with house.reading() as connection:
            rows = sightings.unread(connection, with_, after, AT_ONCE)
        if not rows:
            return done
        found = ReadingRows()
        for row in rows:
            found.add(row["id"], reading_of(desk, row, put_right), with_)
        with house.keeping() as connection:
            sightings.keep_readings(connection, found)
        after, done = rows[-1]["id"], done + len(rows)
        progress(len(rows))


def judge_changed(house: House, desk: Desk, candidate_id: int) -> Judgements:
    """Judge the candidates of a candidate's listing that are due, once its texts are read with its corrections.

    So what is searched and what is judged are the same.
    """
    same = siblings(house, candidate_id)
    put_right, found, with_ = corrections_by_listing(house), ReadingRows(), read_with(house, desk.this_year)
    with house.reading() as connection:
        rows = sightings.sightings_of(connection, same[0].listing_id)
    for row in rows:
        found.add(row["id"], reading_of(desk, row, put_right), with_)
    with house.keeping() as connection:
        sightings.keep_readings(connection, found)
    return judge_due(house, desk, only=[one.id for one in same])


def judge_due(
    house: House,
    desk: Desk,
    builds: Sequence[str] = (),
    *,
    only: Sequence[int] = (),
    progress: Progress = unwatched,
) -> Judgements:
    """Judge the candidates of builds (none named: of every build that is kept) that are due, or ``only`` some."""
    put_right, found = corrections_by_listing(house), Judgements()
    kept = [one.name for one in house.builds()]
    for name in builds or kept:
        build, base = find_build(house, house.build(name).name), judged_with(house, desk.this_year, name)
        for rows in _due(house, name, base, put_right, only):
            judged = [(row, _verdict(desk, build, row, put_right)) for row in rows]
            _keep(house, judged, base, put_right, found)
            progress(len(rows))
    return found


def candidate_verdict(house: House, desk: Desk, candidate_id: int) -> Checked:
    """A candidate read and judged now, in full, with its corrections, its price and its distance."""
    with house.reading() as connection:
        row = stored.read_candidate(connection, candidate_id) or {}
        row["text"] = stored.newest_texts(connection, [row["listing_id"]])[row["listing_id"]]["text"]
    return _verdict(desk, find_build(house, row["build"]), row, corrections_by_listing(house))


def count_due(house: House, desk: Desk) -> dict[str, int]:
    """How many candidates of each kept build are due to be judged; builds of which none is are left out."""
    put_right, found = corrections_by_listing(house), {}
    for one in house.builds():
        base = judged_with(house, desk.this_year, one.name)
        with house.reading() as connection:
            known = stored.kept_for(connection, list(put_right))
            plain = stored.count_stale(connection, one.name, base, _digests(put_right))
        ids = [row["id"] for (_, build), row in known.items() if build == one.name]
        corrected_ones = _due(house, one.name, base, put_right, ids) if ids else ()
        found[one.name] = plain + sum(len(rows) for rows in corrected_ones)
    return {name: number for name, number in found.items() if number}


_Corrections = Mapping[int, list[dict[str, Any]]]
"""Corrections by the listing that one of their texts is of, the oldest first."""


def corrections_by_listing(house: House) -> _Corrections:
    """Every correction, by each listing that its text is of, the oldest first."""
    rows = [{**row, "text": plain_text(row["text"])} for row in house.rows()["correction"]]
    listings: dict[str, list[int]] = {}
    digests = dict.fromkeys(digest_of(row["text"]) for row in rows)
    with house.reading() as connection:
        for listing_id, digest in stored.of_digests(connection, list(digests)):
            listings.setdefault(digest, []).append(listing_id)
    found: dict[int, list[dict[str, Any]]] = {}
    for row in rows:
        for listing_id in listings.get(digest_of(row["text"]), ()):
            found.setdefault(listing_id, []).append(row)
    return found


def _digests(put_right: _Corrections) -> list[str]:
    return [digest_of(text) for text in {row["text"] for rows in put_right.values() for row in rows}]


def _due(
    house: House, build: str, base: str, put_right: _Corrections, only: Sequence[int] = ()
) -> Iterator[list[dict[str, Any]]]:
    """The candidates of a build that are due, with the newest text of each, some at a time."""
    after, digests = 0, _digests(put_right)
    while True:
        with house.reading() as connection:
            rows = stored.stale(connection, build, base, digests, after=after, limit=AT_ONCE, only=only)
            texts = stored.newest_texts(connection, [row["listing_id"] for row in rows])
        if not rows:
            return
        after = rows[-1]["id"]
        for row in rows:
            row["text"] = texts[row["listing_id"]]["text"]
        due = [row for row in rows if row["judged_with"] != base + of_corrections(put_right.get(row["listing_id"], []))]
        if due:
            yield due


def reading_of(desk: Desk, row: Mapping[str, Any], put_right: _Corrections) -> Reading:
    """A text of a listing, read, with the listing's corrections and, where the row has one, the price asked now."""
    return corrected(desk.read(row["text"]), put_right.get(row["listing_id"], []), row.get("price_usd"))


def _verdict(desk: Desk, build: Build, row: Mapping[str, Any], put_right: _Corrections) -> Checked:
    return desk.judged(reading_of(desk, row, put_right), build, row["distance_mi"])


def _keep(
    house: House,
    judged: Sequence[tuple[Mapping[str, Any], Checked]],
    base: str,
    put_right: _Corrections,
    found: Judgements,
) -> None:
    now = datetime.now(UTC)
    rows = [
        {**_verdict_row(c.verdict), "id": row["id"], "judged_at": now}
        | {"judged_with": base + of_corrections(put_right.get(row["listing_id"], []))}
        for row, c in judged
    ]
    changes = [
        Change(row["id"], row["build"], row["verdict"], str(c.verdict.verdict))
        for row, c in judged
        if row["verdict"] != c.verdict.verdict
    ]
    with house.keeping() as connection:
        stored.set_verdicts(connection, rows)
        stored.add_events(connection, [_event(c, now) for c in changes if c.before is not None])
    found.judged += len(rows)
    found.changes += changes


def _verdict_row(verdict: ListingVerdict) -> dict[str, Any]:
    total = verdict.money.total
    ends = {f"landed_{n}_usd": getattr(total, n) if total else None for n in ("low", "likely", "high")}
    taken = [f"{verdict.items[n].end}: {verdict.items[n].taken_for}" for n in verdict.chosen]
    return {
        **ends, "verdict": str(verdict.verdict), "chance": verdict.chance,
        "taken_for": "; ".join(taken), "why": "\n".join(verdict.reasons),
    }  # fmt: skip


def _event(change: Change, now: datetime) -> dict[str, Any]:
    told = {"kind": "verdict", "note": f"{change.before} -> {change.after}", "who": ""}
    return {**told, "candidate_id": change.candidate_id, "happened_on": date.today(), "noted_at": now}
