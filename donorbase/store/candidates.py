"""Candidates and their events in the database."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, and_, bindparam, exists, func, insert, or_, select, update
from sqlmodel import col

from donorbase.store.candidate_tables import CandidateEventRow, CandidateRow
from donorbase.store.listing_tables import ListingRow
from donorbase.store.schema import table
from donorbase.store.search_index import mark_due

_AT_ONCE = 500

_C, _L, _S = (table(name).c for name in ("candidate", "listing", "sighting"))
# Built once: building a statement costs more than what it does.
_OF_LISTINGS = select(_C.id, _C.listing_id, _C.build, _C.state).where(
    _C.listing_id.in_(bindparam("listings", expanding=True))
)
_ADD = insert(CandidateRow).returning(col(CandidateRow.id), sort_by_parameter_order=True)
_ADD_EVENTS = insert(CandidateEventRow)


def kept_for(connection: Connection, listing_ids: Sequence[int]) -> dict[tuple[int, str], dict[str, Any]]:
    """The candidates of listings, by listing and build: id and state."""
    found: dict[tuple[int, str], dict[str, Any]] = {}
    for begin in range(0, len(listing_ids), _AT_ONCE):
        for row in connection.execute(_OF_LISTINGS, {"listings": list(listing_ids[begin : begin + _AT_ONCE])}).all():
            found[row.listing_id, row.build] = dict(row._mapping)
    return found


def add_candidates(connection: Connection, rows: Sequence[Mapping[str, Any]]) -> list[int]:
    """New candidates; their ids in the order of the rows."""
    mark_due(connection, listings={row["listing_id"] for row in rows})
    return [row.id for row in connection.execute(_ADD, [dict(row) for row in rows])] if rows else []


def add_events(connection: Connection, rows: Sequence[Mapping[str, Any]]) -> None:
    """Events; columns that a row leaves out are empty. Each row must have the same columns."""
    if rows:
        connection.execute(_ADD_EVENTS, [dict(row) for row in rows])


def set_state(connection: Connection, candidate_id: int, state: str, now: datetime) -> None:
    """Set the present state."""
    ours = _C.id == candidate_id
    connection.execute(update(CandidateRow).where(ours).values(state=state, changed_at=now))
    mark_due(connection, listings=list(connection.execute(select(_C.listing_id).where(ours)).scalars()))


def set_verdicts(connection: Connection, rows: Iterable[Mapping[str, Any]]) -> None:
    """Set verdicts, by ``id``; every row has the columns of a verdict."""
    for row in rows:
        values = {name: value for name, value in row.items() if name != "id"}
        connection.execute(update(CandidateRow).where(_C.id == row["id"]).values(**values))


def judge_anew(connection: Connection, listing_ids: Iterable[int]) -> None:
    """Say that the verdicts on these listings rest on what is no longer so."""
    for listing_id in set(listing_ids):
        connection.execute(update(CandidateRow).where(_C.listing_id == listing_id).values(judged_with=None))


def read_candidate(connection: Connection, candidate_id: int) -> dict[str, Any] | None:
    """One candidate with its listing's days, price and place; None where there is none of that number."""
    row = connection.execute(_with_listing().where(_C.id == candidate_id)).first()
    return dict(row._mapping) if row else None


def list_candidates(
    connection: Connection,
    builds: Sequence[str] = (),
    states: Sequence[str] = (),
    verdicts: Sequence[str] = (),
    limit: int | None = None,
    after: int = 0,
) -> list[dict[str, Any]]:
    """Candidates with their listings, by number, of any of the builds, states and verdicts (none named: of all).

    Those of a listing that turned out to be another one are left out.
    """
    query = _with_listing().where(_C.id > after, _L.merged_into.is_(None)).order_by(_C.id)
    for column, words in ((_C.build, builds), (_C.state, states), (_C.verdict, verdicts)):
        if words:
            query = query.where(column.in_(words))
    return [dict(row._mapping) for row in connection.execute(query.limit(limit))]


def _with_listing() -> Select[Any]:
    of_listing = (_L.first_seen_on, _L.last_seen_on, _L.price_usd, _L.distance_mi, _L.zip)
    return select(table("candidate"), *of_listing).join(ListingRow, _L.id == _C.listing_id)


def newest_texts(connection: Connection, listing_ids: Sequence[int]) -> dict[int, dict[str, Any]]:
    """Of each listing the sighting seen last: its id, digest, url, title and text."""
    found: dict[int, dict[str, Any]] = {}
    columns = (_S.listing_id, _S.id, _S.digest, _S.url, _S.title, _S.text)
    for begin in range(0, len(listing_ids), _AT_ONCE):
        part = _S.listing_id.in_(listing_ids[begin : begin + _AT_ONCE])
        # Later rows stand in for earlier ones.
        for row in connection.execute(select(*columns).where(part).order_by(_S.last_seen_on, _S.id)):
            found[row.listing_id] = dict(row._mapping)
    return found


def stale(
    connection: Connection,
    build: str,
    judged_with: str,
    corrected: Sequence[str],
    *,
    after: int,
    limit: int,
    only: Sequence[int] = (),
) -> list[dict[str, Any]]:
    """Candidates of a build that were not judged with ``judged_with``, or of which a text was put right.

    By number from after ``after`` on; ``only`` those of these numbers where any are given.
    """
    other = or_(_other(judged_with), _put_right(corrected))
    query = _with_listing().where(and_(_C.build == build, _C.id > after, other)).order_by(_C.id).limit(limit)
    if only:
        query = query.where(_C.id.in_(only))
    return [dict(row._mapping) for row in connection.execute(query)]


def count_stale(connection: Connection, build: str, judged_with: str, corrected: Sequence[str]) -> int:
    """How many candidates of a build were not judged with ``judged_with``; those with a text put right do not count."""
    ours = and_(_C.build == build, _other(judged_with), ~_put_right(corrected))
    return int(connection.execute(select(func.count()).select_from(CandidateRow).where(ours)).scalar() or 0)


def _other(judged_with: str) -> ColumnElement[bool]:
    return or_(_C.judged_with.is_(None), _C.judged_with != judged_with)


def _put_right(corrected: Sequence[str]) -> ColumnElement[bool]:
    return exists().where(_S.listing_id == _C.listing_id, _S.digest.in_(list(corrected)))


def of_digests(connection: Connection, digests: Sequence[str]) -> list[tuple[int, str]]:
    """The listings in which texts were seen: pairs of listing and digest."""
    found: list[tuple[int, str]] = []
    for begin in range(0, len(digests), _AT_ONCE):
        part = _S.digest.in_(digests[begin : begin + _AT_ONCE])
        found += [
            (row.listing_id, row.digest) for row in connection.execute(select(_S.listing_id, _S.digest).where(part))
        ]
    return found


def builds_with_candidates(connection: Connection) -> dict[str, int]:
    """How many candidates each build has, by its name."""
    counted = select(_C.build, func.count().label("n")).group_by(_C.build).order_by(_C.build)
    return {row.build: row.n for row in connection.execute(counted)}


def read_events(connection: Connection, candidate_id: int) -> list[dict[str, Any]]:
    """Everything that happened to a candidate, in the order in which it was noted."""
    ours = col(CandidateEventRow.candidate_id) == candidate_id
    query = select(table("candidate_event")).where(ours).order_by(col(CandidateEventRow.id))
    return [dict(row._mapping) for row in connection.execute(query)]
