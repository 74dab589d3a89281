"""Yards and their vehicles in the database."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any

from sqlalchemy import Connection, func, insert, select, update
from sqlmodel import col

from donorbase.store.schema import table
from donorbase.store.yard_tables import YardRow, YardVehicleRow

_V = table("yard_vehicle").c
_AT_ONCE = 500


def keep_yard(connection: Connection, name: str, listed_on: date, now: datetime, **place: Any) -> None:
    """Keep a yard; of an older list than its newest only the place counts, and what is None stays as it was."""
    given = {column: value for column, value in place.items() if value is not None}
    ours = col(YardRow.name) == name
    before = connection.execute(select(col(YardRow.listed_on)).where(ours)).scalar()
    if before is None:
        connection.execute(insert(YardRow).values(name=name, listed_on=listed_on, made_at=now, **given))
    else:
        connection.execute(update(YardRow).where(ours).values(listed_on=max(before, listed_on), **given))


def read_yards(connection: Connection) -> list[dict[str, Any]]:
    """Every yard by name, with how many of its vehicles stand there (``there``) and are gone (``gone``)."""
    gone = func.count(_V.gone_on)
    counted = select(table("yard"), (func.count(_V.id) - gone).label("there"), gone.label("gone"))
    query = counted.join(YardVehicleRow, _V.yard == col(YardRow.name), isouter=True)
    query = query.group_by(*table("yard").c).order_by(col(YardRow.name))
    return [dict(row._mapping) for row in connection.execute(query)]


def keep_vehicles(
    connection: Connection, yard: str, rows: Sequence[Mapping[str, Any]], day: date, *, full: bool
) -> dict[str, int]:
    """Keep the vehicles of a list of one day, by ``digest``; how many are ``added``, ``known`` and ``gone``.

    Those of a ``full`` list that is the newest are all there are: others are gone from that day.
    """
    known = {r.digest: r for r in connection.execute(select(table("yard_vehicle")).where(_V.yard == yard))}
    fresh = [dict(row) for row in rows if row["digest"] not in known]
    days = {"yard": yard, "first_seen_on": day, "last_seen_on": day}
    if fresh:
        connection.execute(insert(YardVehicleRow), [row | days for row in fresh])
    again = [known[row["digest"]] for row in rows if row["digest"] in known]
    for old in again:
        seen = {"first_seen_on": min(old.first_seen_on, day), "last_seen_on": max(old.last_seen_on, day)}
        gone = old.gone_on if old.gone_on and old.gone_on > day else None
        connection.execute(update(YardVehicleRow).where(_V.id == old.id).values(**seen, gone_on=gone))
    listed = {row["digest"] for row in rows}
    lacking = [old.id for old in known.values() if old.digest not in listed and not old.gone_on]
    newest = all(old.last_seen_on <= day for old in known.values())
    lacking = lacking if full and newest else []
    for begin in range(0, len(lacking), _AT_ONCE):
        part = _V.id.in_(lacking[begin : begin + _AT_ONCE])
        connection.execute(update(YardVehicleRow).where(part).values(gone_on=day))
    return {"added": len(fresh), "known": len(again), "gone": len(lacking)}


def read_vehicles(connection: Connection, yard: str, *, gone: bool = False) -> list[dict[str, Any]]:
    """The vehicles of a yard that stand there, or those that are ``gone``, by number."""
    state = _V.gone_on.is_not(None) if gone else _V.gone_on.is_(None)
    query = select(table("yard_vehicle")).where(_V.yard == yard, state).order_by(_V.id)
    return [dict(row._mapping) for row in connection.execute(query)]
