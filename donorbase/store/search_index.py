"""The index by which kept listings are found: filled in batches, complete at any moment.

Sightings that are new or changed are due. Whoever searches adds what is due to what lies in the index; whoever keeps
many puts it there once enough has come together, since that costs the same for one as for a hundred.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from sqlalchemy import Connection, Integer, Table, bindparam, delete, func, inspect, select
from sqlalchemy.dialects import postgresql, sqlite

from donorbase.store.bits import PIECE, joined, packed, set_of, unpacked
from donorbase.store.schema import table
from donorbase.store.search_rows import EVERY, Entries, Entry, entries_of, words_of

MANY_DUE = 1000
"""From so many on what is due is put into the index when something is kept."""
_AT_ONCE = 5000
_IN_ONE = 500

_BITS, _DUE, _WORD, _SIGHTING = (table(name) for name in ("search_bits", "search_due", "search_word", "sighting"))

# Built once: building a statement costs more than what it finds.
_OF_NAMES = select(_BITS.c.name, _BITS.c.item, _BITS.c.value, _BITS.c.piece, _BITS.c.bits).where(
    _BITS.c.name.in_(bindparam("names", expanding=True))
)
_LAST = (
    select(_BITS.c.piece, _BITS.c.bits)
    .where(*(_BITS.c[column] == part for column, part in zip(("name", "value", "item"), EVERY, strict=True)))
    .order_by(_BITS.c.piece.desc())
    .limit(1)
)
_NEW = select(_SIGHTING.c.id).where(_SIGHTING.c.id > bindparam("last")).order_by(_SIGHTING.c.id)
_CHANGED = select(_DUE.c.sighting_id).where(_DUE.c.sighting_id <= bindparam("last"))
_AT_MOST = select(
    func.coalesce(select(func.max(_SIGHTING.c.id)).scalar_subquery(), 0)
    - bindparam("last", type_=Integer)
    + select(func.count()).select_from(_DUE).scalar_subquery()
)
"""How many are due at most: numbers may be left out."""

Values = Mapping[str, int]
"""By value the set of sightings."""


@dataclass(slots=True)
class Index:
    """The sets of the names that were asked for, by name, thing and value; and the words of what is due."""

    sets: dict[str, dict[int, dict[str, int]]] = field(default_factory=dict)

    def values(self, name: str, item: int) -> Values:
        """The sets of every value that a thing of that number has somewhere."""
        return self.sets.get(name, {}).get(item, {})

    def one(self, name: str, value: str, item: int) -> int:
        """The set of one value."""
        return self.values(name, item).get(value, 0)

    def items(self, name: str) -> list[int]:
        """The numbers of things under a name."""
        return sorted(self.sets.get(name, {}))


def mark_due(connection: Connection, *, sightings: Collection[int] = (), listings: Collection[int] = ()) -> None:
    """Say that what is kept of sightings, or of listings, changed. What is new need not be marked."""
    last = _last(connection) if sightings or listings else 0
    for column, numbers in ((_SIGHTING.c.id, sightings), (_SIGHTING.c.listing_id, listings)):
        listed = sorted(n for n in set(numbers) if column is _SIGHTING.c.listing_id or n <= last)
        for begin in range(0, len(listed), _IN_ONE):
            ours = select(_SIGHTING.c.id).where(column.in_(listed[begin : begin + _IN_ONE]), _SIGHTING.c.id <= last)
            _upsert(connection, _DUE, [{"sighting_id": one} for one in connection.execute(ours).scalars()])


def put_in(connection: Connection, at_least: int = 1) -> int:
    """Put what is due into the index where it is as much as ``at_least``; how many sightings that were."""
    done = 0
    last = _last(connection)
    if connection.execute(_AT_MOST, {"last": last}).scalar_one() < at_least:
        return 0
    while due := _due(connection, last, _AT_ONCE):
        _put(connection, due, last)
        last, done = max(last, due[-1]), done + len(due)
    return done


def how_many_due(connection: Connection, most: int) -> int:
    """How many sightings are due, at most, counted up to ``most``."""
    last = _last(connection)
    at_most = int(connection.execute(_AT_MOST, {"last": last}).scalar_one())
    return len(_due(connection, last, most)) if at_most >= most else at_most


def load(connection: Connection, names: Iterable[str]) -> Index:
    """The sets of these names, with what is due."""
    asked = {EVERY[0], *names}
    pieces: dict[tuple[str, int, str], list[tuple[int, bytes]]] = defaultdict(list)
    for name, item, value, piece, bits in connection.execute(_OF_NAMES, {"names": sorted(asked)}).all():
        pieces[name, item, value].append((piece, bits))
    index = Index()
    for (name, item, value), some in pieces.items():
        index.sets.setdefault(name, {}).setdefault(item, {})[value] = joined(some)
    last = max(index.one(*EVERY).bit_length() - 1, 0)
    due = _due(connection, last, None)
    if due:
        _add(index, due, {e: ids for e, ids in entries_of(connection, due).items() if e[0] in asked})
    return index


def _add(index: Index, due: Sequence[int], entries: Entries) -> None:
    old = ~set_of(due)
    for by_item in index.sets.values():
        for by_value in by_item.values():
            for value in by_value:
                by_value[value] &= old
    for (name, value, item), ids in entries.items():
        by_value = index.sets.setdefault(name, {}).setdefault(item, {})
        by_value[value] = by_value.get(value, 0) | set_of(ids)


def words_known(connection: Connection, first: str, least: int, most: int) -> list[str]:
    """The words of all texts that begin with a letter and have so many letters."""
    last = _last(connection)
    word = _WORD.c.word
    near = select(word).where(word >= first, word < chr(ord(first) + 1), func.length(word).between(least, most))
    found = set(connection.execute(near).scalars())
    fresh = words_of(connection, _due(connection, last, None))
    return sorted(found | {w for w in fresh if w[0] == first and least <= len(w) <= most})


def forget_index(connection: Connection) -> None:
    """Empty the index, where a database has one: everything is due."""
    if inspect(connection).has_table(_BITS.name):
        for one in (_BITS, _DUE, _WORD):
            connection.execute(delete(one))


def _last(connection: Connection) -> int:
    """The last sighting in the index."""
    row = connection.execute(_LAST).first()
    return row.piece * PIECE + unpacked(row.bits).bit_length() - 1 if row else 0


def _due(connection: Connection, last: int, most: int | None) -> list[int]:
    """The sightings that are due, by number."""
    found = {
        one
        for query in (_CHANGED, _NEW)
        for one in connection.execute(query if most is None else query.limit(most), {"last": last}).scalars()
    }
    return sorted(found)[:most]


def _put(connection: Connection, due: Sequence[int], last: int) -> None:
    entries = entries_of(connection, due)
    for piece, gone in _pieces(one for one in due if one <= last).items():
        _take_out(connection, piece, gone)
    fresh: dict[int, dict[Entry, int]] = defaultdict(dict)
    for entry, ids in entries.items():
        for piece, held in _pieces(ids).items():
            fresh[piece][entry] = held
    for piece, by_entry in fresh.items():
        _write(connection, piece, by_entry)
    _upsert(connection, _WORD, [{"word": word} for word in sorted(words_of(connection, due))])
    for begin in range(0, len(due), _IN_ONE):
        connection.execute(delete(_DUE).where(_DUE.c.sighting_id.in_(due[begin : begin + _IN_ONE])))


def _pieces(ids: Iterable[int]) -> dict[int, int]:
    """Sets of sightings by the piece in which they stand, counted from its beginning."""
    found: dict[int, list[int]] = defaultdict(list)
    for one in ids:
        found[one // PIECE].append(one % PIECE)
    return {piece: set_of(numbers) for piece, numbers in found.items()}


def _take_out(connection: Connection, piece: int, gone: int) -> None:
    """Take sightings out of every set of a piece."""
    changed = []
    for row in connection.execute(select(_BITS).where(_BITS.c.piece == piece)).mappings().all():
        before = unpacked(row["bits"])
        if before & gone:
            changed.append({**row, "bits": packed(before & ~gone)})
    _upsert(connection, _BITS, changed)


def _write(connection: Connection, piece: int, fresh: Mapping[Entry, int]) -> None:
    """Add sightings to sets of a piece."""
    names = sorted({name for name, _, _ in fresh})
    asked = select(_BITS).where(_BITS.c.piece == piece, _BITS.c.name.in_(names))
    there = {(row.name, row.value, row.item): row.bits for row in connection.execute(asked)}
    rows = []
    for entry, held in fresh.items():
        before = unpacked(there[entry]) if entry in there else 0
        place = dict(zip(("name", "value", "item"), entry, strict=True))
        rows.append({**place, "piece": piece, "bits": packed(before | held)})
    _upsert(connection, _BITS, rows)


def _upsert(connection: Connection, into: Table, rows: Sequence[Mapping[str, object]]) -> None:
    """Insert rows, or put their last columns in place of those that are there."""
    if not rows:
        return
    dialect = postgresql if connection.dialect.name == "postgresql" else sqlite
    adding = dialect.insert(into).values({c.name: bindparam(c.name) for c in into.columns})
    keys = [c.name for c in into.primary_key.columns]
    rest = {c.name: adding.excluded[c.name] for c in into.columns if c.name not in keys}
    how = adding.on_conflict_do_update(index_elements=keys, set_=rest) if rest else adding.on_conflict_do_nothing()
    connection.execute(how, [dict(row) for row in rows])
