"""Kept listings by conditions and words -> the ones that contradict nothing, those that meet most first.

A condition is met, contradicted, or not said of each thing in a listing. Words are looked up in the full-text index
of the database file (FTS5, ranked by bm25); on a server, which has no such index, in the texts themselves.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Any

from sqlalchemy import (
    ColumnElement,
    Connection,
    Float,
    FromClause,
    Integer,
    Select,
    and_,
    case,
    column,
    exists,
    false,
    func,
    literal,
    not_,
    or_,
    select,
    text,
)  # fmt: skip

from donorbase.attributes import PAIRS, Attribute, Kind, attributes
from donorbase.reference.conditions import Condition
from donorbase.store.columns import columns_of
from donorbase.store.find import in_spans, overlap
from donorbase.store.schema import table

Truth = ColumnElement[bool]

_L, _S, _C = (table(name).c for name in ("listing", "sighting", "candidate"))
_R, _I, _V = (table(name).c for name in ("reading", "listed_item", "listed_value"))
_SPLINES = ("splines", "outer_splines", "inner_splines")
_AT_ONCE = 500

ONLY_SAID = {"has": "missing", "missing": "has", "defects": "", "price_terms": ""}
"""Lists of which silence on one value says nothing, though another is named, and the list that contradicts it."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A condition, or with ``denied`` that it must not be so."""

    condition: Condition
    denied: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """Words of the query, each with the other spellings that will do; ``denied`` must not stand in the text."""

    wanted: tuple[tuple[str, ...], ...] = ()
    denied: tuple[tuple[str, ...], ...] = ()


def words_known(connection: Connection, first: str, least: int, most: int) -> list[str]:
    """The words of all texts that begin with a letter and have so many letters; none on a server."""
    if connection.dialect.name != "sqlite":
        return []
    query = text(
        "SELECT term FROM sighting_text_words"
        " WHERE term >= :first AND term < :beyond AND length(term) BETWEEN :least AND :most"
    )
    bounds = {"first": first, "beyond": chr(ord(first) + 1), "least": least, "most": most}
    return [row.term for row in connection.execute(query, bounds)]


def search_listings(
    connection: Connection, asked: Sequence[Asked], words: Words, states: Sequence[str] = (), limit: int = 20
) -> list[dict[str, Any]]:
    """Listings that contradict nothing that was asked, each once: listing_id, sighting_id, met (1 or 0 for each).

    Those that meet most conditions come first, then those that have most of the words, then those whose words fit
    best (bm25), then the newest. That a thing is an axle, as nearly all are, counts no more than a word. One that
    meets nothing and has none of the words is left out.
    """
    found = _found(connection, asked, words, states).cte("found").prefix_with("MATERIALIZED", dialect="sqlite")
    # Kept apart, so that the database works each of them out once.
    met = [found.c[f"met{n}"] for n in range(len(asked))]
    told: ColumnElement[int] = sum((m for m, one in zip(met, asked, strict=True) if not _plain_kind(one)), literal(0))
    total: ColumnElement[int] = sum(met, start=found.c.words)
    query = select(found.c.listing_id, found.c.sighting_id, *met)
    if words.wanted or not all(one.denied for one in asked):
        query = query.where(total > 0)
    order = (
        told.desc(),
        total.desc(),
        found.c.fit,
        found.c.last_seen_on.desc(),
        found.c.listing_id,
        found.c.sighting_id,
    )
    return list(islice(_each_once(connection.execute(query.order_by(*order))), limit))


def _plain_kind(asked: Asked) -> bool:
    return asked.condition.attribute == "kind" and asked.condition.words == ("axle",)


def _found(connection: Connection, asked: Sequence[Asked], words: Words, states: Sequence[str]) -> Select[Any]:
    """Every thing in a listing that contradicts nothing, with what it meets and how its words fit."""
    things = (
        table("listing")
        .join(table("sighting"), _S.listing_id == _L.id)
        .join(table("reading"), _R.sighting_id == _S.id)
        .join(table("listed_item"), _I.sighting_id == _S.id, isouter=True)
    )
    count: ColumnElement[Any] = literal(0)
    fit: ColumnElement[Any] = literal(0.0)
    if words.wanted:
        hits = _hits(connection, words.wanted, "hits")
        things = things.join(hits, hits.c.sighting_id == _S.id, isouter=bool(asked))
        count, fit = func.coalesce(hits.c.words, 0), func.coalesce(hits.c.fit, 0.0)
    truths = [_truth(one) for one in asked]
    met = [case((truth.meets, 1), else_=0).label(f"met{n}") for n, truth in enumerate(truths)]
    own = (_L.id.label("listing_id"), _S.id.label("sighting_id"), _L.last_seen_on)
    query = select(*own, count.label("words"), fit.label("fit"), *met).select_from(things)
    query = query.where(_L.merged_into.is_(None), *(not_(truth.wrong) for truth in truths))
    if words.denied:
        unwanted = _hits(connection, words.denied, "unwanted")
        query = query.where(_S.id.not_in(select(unwanted.c.sighting_id)))
    if states:
        query = query.where(exists().where(_C.listing_id == _L.id, _C.state.in_(states)))
    return query


def _each_once(rows: Any) -> Any:
    seen: set[int] = set()
    for listing_id, sighting_id, *met in rows:
        if listing_id not in seen:
            seen.add(listing_id)
            yield {"listing_id": listing_id, "sighting_id": sighting_id, "met": met}


def shown_of(connection: Connection, listing_ids: Sequence[int]) -> dict[int, dict[str, Any]]:
    """What is shown of listings: price_usd, distance_mi, last_seen_on, and their candidates (id, build, state)."""
    found: dict[int, dict[str, Any]] = {}
    for begin in range(0, len(listing_ids), _AT_ONCE):
        part = listing_ids[begin : begin + _AT_ONCE]
        columns = (_L.id, _L.price_usd, _L.distance_mi, _L.last_seen_on)
        for row in connection.execute(select(*columns).where(_L.id.in_(part))):
            found[row.id] = {**row._mapping, "candidates": []}
        kept = select(_C.id, _C.listing_id, _C.build, _C.state).where(_C.listing_id.in_(part)).order_by(_C.id)
        for row in connection.execute(kept):
            found[row.listing_id]["candidates"].append({"id": row.id, "build": row.build, "state": row.state})
    return found


def _hits(connection: Connection, words: Sequence[Sequence[str]], name: str) -> FromClause:
    """The sightings that hold any of the words, how many of them, and how they fit: the lower, the better."""
    if connection.dialect.name == "sqlite":
        keys = {f"{name}{n}": " OR ".join(f'"{one}"*' for one in each) for n, each in enumerate(words)}
        # The limit, which is none, keeps SQLite from taking bm25 out of the only query in which it can be used.
        of_one = "SELECT * FROM (SELECT rowid AS id, bm25(sighting_text, 2.0, 1.0) AS fit FROM sighting_text"
        every = " UNION ALL ".join(f"{of_one} WHERE sighting_text MATCH :{key} LIMIT -1)" for key in keys)
        # Only the names of the parameters are put together here; what was typed is handed over as their values.
        query = text(f"SELECT id AS sighting_id, count(*) AS words, sum(fit) AS fit FROM ({every}) GROUP BY id")
        columns = (column("sighting_id", Integer), column("words", Integer), column("fit", Float))
        return query.bindparams(**keys).columns(*columns).subquery(name)
    folded = func.lower(_S.title + " " + _S.text)
    holds = [or_(*(folded.contains(one, autoescape=True) for one in spellings)) for spellings in words]
    count: ColumnElement[int] = sum((case((held, 1), else_=0) for held in holds), start=literal(0))
    fit = literal(0.0).label("fit")
    return select(_S.id.label("sighting_id"), count.label("words"), fit).where(or_(*holds)).subquery(name)


@dataclass(frozen=True, slots=True)
class _Truth:
    """Neither is ever NULL; not said is neither."""

    meets: Truth
    wrong: Truth


def _truth(asked: Asked) -> _Truth:
    condition = asked.condition
    plain = _splines(condition) if condition.attribute in _SPLINES else _plain(condition)
    if not asked.denied:
        return plain
    return _Truth(plain.wrong, plain.meets)


def _plain(condition: Condition) -> _Truth:
    meets, known = _of(condition)
    name = condition.attribute
    if name not in ONLY_SAID:
        return _Truth(meets, and_(known, not_(meets)))
    other = ONLY_SAID[name]
    return _Truth(meets, and_(not_(meets), _several(attributes()[other], condition)) if other else false())


def _splines(condition: Condition) -> _Truth:
    """A count of splines may be of either end of a shaft: where one of them has it, it is met."""
    said = {
        name: _of(Condition(name, condition.text, condition.spans, condition.words))
        for name in ("splines", condition.attribute, *(_SPLINES if condition.attribute == "splines" else ()))
    }
    meets = or_(*(found for found, _ in said.values()))
    told = [known for name, (_, known) in said.items() if name != "inner_splines" or condition.attribute == name]
    return _Truth(meets, and_(or_(*told), not_(meets)))


def _of(condition: Condition) -> tuple[Truth, Truth]:
    """Whether a thing meets a condition, and whether it says anything of it; neither is NULL."""
    known = attributes()[condition.attribute]
    columns = _columns(known)
    listed = exists().where(_value_of(known))
    held = _several(known, condition)
    if not columns:
        return held, listed
    if known.kind in PAIRS:
        single = overlap(columns[0], columns[1], condition.spans)
        return func.coalesce(single, false()), or_(*(c.is_not(None) for c in columns))
    single = _held(known, condition, columns[0])
    return or_(func.coalesce(single, false()), held), or_(columns[0].is_not(None), listed)


def _columns(known: Attribute) -> list[ColumnElement[Any]]:
    if known.name == "price_usd":
        return [_L.price_usd]
    if known.name in ("distance_mi", "zip"):
        return [func.coalesce(_L[known.name], _R[known.name])]
    place = table("reading" if known.scope == "offer" else "listed_item").c
    return [place[name] for name in columns_of(known)]


def _value_of(known: Attribute) -> Truth:
    """The listed values of a thing that are not contradicted."""
    item = literal(0) if known.scope == "offer" else _I.item
    return and_(
        _V.sighting_id == _S.id, _V.item == item, _V.attribute == known.name, _V.known != "contradicted"
    )  # fmt: skip


def _several(known: Attribute, condition: Condition) -> Truth:
    words = known.kind in (Kind.CHOICE, Kind.TEXT, Kind.KEY)
    return exists().where(_value_of(known), _held(known, condition, _V.text if words else _V.number))


def _held(known: Attribute, condition: Condition, value: ColumnElement[Any]) -> Truth:
    if known.kind is Kind.CHOICE:
        return value.in_(condition.words)
    if known.kind in (Kind.TEXT, Kind.KEY):
        return or_(*(func.lower(value).contains(word, autoescape=True) for word in condition.words))
    if known.kind is Kind.FLAG and value is not _V.number:
        return or_(*(value.is_(bool(low)) for low, _ in condition.spans))
    return in_spans(value, condition.spans)
