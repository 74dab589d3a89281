"""Parts, their events, what holds them and what they measured, in the database."""

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, Select, and_, func, insert, or_, select, update
from sqlalchemy.exc import IntegrityError
from sqlmodel import col

from donorbase.reference.shelf_words import FREE
from donorbase.store.schema import table
from donorbase.store.shelf_tables import PartEventRow, PartHoldRow, PartReadingRow, PartRow

_P, _E, _H, _R = (table(name).c for name in ("part", "part_event", "part_hold", "part_reading"))


def next_number(connection: Connection) -> int:
    """The number of the next part; no number is given twice, since parts are never deleted."""
    newest: int | None = connection.execute(select(func.max(_P.id))).scalar()
    return (newest or 0) + 1


def add_part(connection: Connection, row: Mapping[str, Any]) -> None:
    """A new part."""
    connection.execute(insert(PartRow).values(**row))


def set_fields(connection: Connection, part_id: int, fields: Mapping[str, Any]) -> None:
    """Set fields of a part; nothing where there are none."""
    if fields:
        connection.execute(update(PartRow).where(_P.id == part_id).values(**fields))


def add_event(connection: Connection, row: Mapping[str, Any]) -> int:
    """An event; its number."""
    adding = insert(PartEventRow).values(**row).returning(col(PartEventRow.id))
    return int(connection.execute(adding).scalar_one() or 0)


def read_events(connection: Connection, part_id: int) -> list[dict[str, Any]]:
    """Everything that happened to a part, in the order in which it was noted."""
    query = select(table("part_event")).where(_E.part_id == part_id).order_by(_E.id)
    return [dict(row._mapping) for row in connection.execute(query)]


def read_part(connection: Connection, part_id: int) -> dict[str, Any] | None:
    """A part with what holds it; None where there is none of that number."""
    row = connection.execute(_with_hold().where(_P.id == part_id)).first()
    return dict(row._mapping) if row else None


def list_parts(
    connection: Connection,
    *,
    kinds: Collection[str] = (),
    sides: Collection[str] = (),
    states: Collection[str] = (),
    family: str = "",
    place: str = "",
    build: str = "",
) -> list[dict[str, Any]]:
    """Parts with what holds them, by number; a filter that is left out lets all pass."""
    query = _with_hold().order_by(_P.id)
    for column, words in ((_P.kind, kinds), (_P.side, sides), (func.coalesce(_H.kind, FREE), states)):
        if words:
            query = query.where(column.in_(list(words)))
    if family:
        query = query.where(or_(_P.axle == family, _P.axle.startswith(f"{family}/", autoescape=True)))
    if place:
        query = query.where(func.lower(_P.place).contains(place.lower(), autoescape=True))
    if build:
        query = query.where(_H.build == build)
    return [dict(row._mapping) for row in connection.execute(query)]


def _with_hold() -> Select[Any]:
    state = func.coalesce(_H.kind, FREE).label("state")
    of_hold = (_H.id.label("hold_id"), state, _H.build, _H.person, _H.price_cents, _H.into_part)
    is_open = and_(_H.part_id == _P.id, _H.ended_by.is_(None))
    return select(table("part"), *of_hold).join(PartHoldRow, is_open, isouter=True)


def hold(connection: Connection, row: Mapping[str, Any]) -> bool:
    """Let something hold a part; False where something else holds it, which the database itself decides."""
    try:
        with connection.begin_nested():
            connection.execute(insert(PartHoldRow).values(**row))
    except IntegrityError:
        if read_open(connection, row["part_id"]) is None:
            raise
        return False
    return True


def read_open(connection: Connection, part_id: int) -> dict[str, Any] | None:
    """What holds a part; None where nothing does."""
    row = connection.execute(select(table("part_hold")).where(_H.part_id == part_id, _H.ended_by.is_(None))).first()
    return dict(row._mapping) if row else None


def end_hold(connection: Connection, part_id: int, event_id: int) -> None:
    """End what holds a part, by an event."""
    ours = and_(_H.part_id == part_id, _H.ended_by.is_(None))
    connection.execute(update(PartHoldRow).where(ours).values(ended_by=event_id))


def take_back_holds(connection: Connection, event_id: int, undo_id: int) -> None:
    """Undo what an event did to holds: what it began ends by the undoing, what it ended holds again."""
    begun = and_(_H.begun_by == event_id, _H.ended_by.is_(None))
    connection.execute(update(PartHoldRow).where(begun).values(ended_by=undo_id))
    connection.execute(update(PartHoldRow).where(_H.ended_by == event_id).values(ended_by=None))


def read_holds(connection: Connection, part_ids: Sequence[int] = ()) -> list[dict[str, Any]]:
    """All that ever held the parts (none named: any part), in the order in which it began."""
    query = select(table("part_hold")).order_by(_H.id)
    query = query.where(_H.part_id.in_(list(part_ids))) if part_ids else query
    return [dict(row._mapping) for row in connection.execute(query)]


def add_reading(connection: Connection, row: Mapping[str, Any]) -> None:
    """What was measured on a part."""
    connection.execute(insert(PartReadingRow).values(**row))


def read_readings(connection: Connection, part_id: int) -> list[dict[str, Any]]:
    """What was measured on a part, with the day and by whom; ``undone`` where it was taken back later."""
    undoing = table("part_event").alias()
    undone = select(undoing.c.id).where(undoing.c.undoes == _R.event_id).exists()
    columns = (table("part_reading"), _E.happened_on, _E.who, undone.label("undone"))
    query = select(*columns).join(PartEventRow, _E.id == _R.event_id).where(_R.part_id == part_id).order_by(_R.id)
    return [dict(row._mapping) for row in connection.execute(query)]


def add_hold(connection: Connection, row: Mapping[str, Any]) -> None:
    """A hold as it was kept elsewhere."""
    connection.execute(insert(PartHoldRow).values(**row))
