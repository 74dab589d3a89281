"""Conditions on any attributes -> one SELECT over the variants, in three values.

A variant is found when it fails nothing; which of the attributes asked for are not known comes with it. Must
give the same as ``reference.conditions.meets`` on the same rows, and a test holds it to that.
"""

from collections.abc import Sequence
from functools import cached_property
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, and_, case, exists, false, func, not_, or_, select

from donorbase.attributes import PAIRS, Attribute, Kind, attributes
from donorbase.reference.conditions import RATIO_SOLD, Condition, Span
from donorbase.store.columns import columns_of
from donorbase.store.schema import table

Truth = ColumnElement[bool]

_VARIANT, _SEVERAL, _SOLD = (table(name).c for name in ("variant", "variant_value", "gear_ratio"))

FoundKey = tuple[str, tuple[str, ...]]
"""The key of a variant, and the attributes asked for that are not known of it."""


def find_variants(
    connection: Connection, conditions: Sequence[Condition], sort: str = "", descending: bool = False
) -> list[FoundKey]:
    """The variants that fail no condition, sorted by an attribute (not known: last), then by key."""
    rows = connection.execute(query_of(conditions, sort, descending))
    return [_found(row, conditions) for row in rows]


def _found(row: Sequence[Any], conditions: Sequence[Condition]) -> FoundKey:
    key, *known = row
    return key, tuple(c.attribute for c, is_known in zip(conditions, known, strict=True) if not is_known)


def query_of(conditions: Sequence[Condition], sort: str = "", descending: bool = False) -> Select[Any]:
    """The SELECT: the variant's key, then for each condition whether its attribute is known."""
    asked = [_asked(condition) for condition in conditions]
    query = select(_VARIANT.variant, *(case((a.known, 1), else_=0) for a in asked))
    for one in asked:
        query = query.where(one.applies, or_(one.meets, not_(one.known)))
    if sort:
        key = _sort_key(attributes()[sort], descending)
        query = query.order_by((key.desc() if descending else key.asc()).nulls_last())
    return query.order_by(_VARIANT.variant)


class _Sold:
    """A set of the ratio is sold for the gear set."""

    def __init__(self, condition: Condition) -> None:
        ours = _SOLD.gear_set == _VARIANT.gear_set
        self.applies: Truth = ~false()
        self.known: Truth = exists().where(ours)
        self.meets: Truth = exists().where(ours, in_spans(_SOLD.ratio, condition.spans))


class _Asked:
    """A condition on an attribute: its value lies in columns, or several lie in ``variant_value``."""

    def __init__(self, condition: Condition) -> None:
        self.condition = condition
        self.attribute = attributes()[condition.attribute]
        self.columns = [_VARIANT[name] for name in columns_of(self.attribute)]
        self.several = and_(
            _SEVERAL.variant == _VARIANT.variant,
            _SEVERAL.attribute == self.attribute.name,
        )

    @cached_property
    def applies(self) -> Truth:
        """Whether axles of that end have the attribute at all."""
        return _VARIANT.position.in_(self.attribute.ends)

    @cached_property
    def known(self) -> Truth:
        """Whether one or several values are known."""
        listed: Truth = exists().where(self.several)
        return or_(self.columns[0].is_not(None), listed) if self.columns else listed

    @cached_property
    def meets(self) -> Truth:
        """Whether one of the values meets the condition; never NULL."""
        words = self.attribute.kind in (Kind.CHOICE, Kind.TEXT, Kind.KEY)
        held = self._words(_SEVERAL.text) if words else self._number(_SEVERAL.number)
        listed: Truth = exists().where(self.several, held)
        if not self.columns:
            return listed
        if self.attribute.kind in PAIRS:
            return func.coalesce(overlap(self.columns[0], self.columns[1], self.condition.spans), false())
        single = self._words(self.columns[0]) if words else self._number(self.columns[0])
        return or_(func.coalesce(single, false()), listed)

    def _number(self, column: ColumnElement[Any]) -> Truth:
        return in_spans(column, self.condition.spans)

    def _words(self, column: ColumnElement[Any]) -> Truth:
        words = self.condition.words
        if self.attribute.kind is Kind.CHOICE:
            return column.in_(words)
        folded = func.lower(column)
        if self.attribute.kind is Kind.TEXT:
            return or_(*(folded.contains(word, autoescape=True) for word in words))
        return or_(*(folded.like(_pattern(word), escape="\\") for word in words))


def _asked(condition: Condition) -> _Sold | _Asked:
    return _Sold(condition) if condition.attribute == RATIO_SOLD else _Asked(condition)


def _pattern(word: str) -> str:
    """A key with ``*`` and ``?`` as a LIKE pattern."""
    for sign in ("\\", "%", "_"):
        word = word.replace(sign, f"\\{sign}")
    return word.replace("*", "%").replace("?", "_")


def in_spans(column: ColumnElement[Any], spans: Sequence[Span]) -> Truth:
    """Whether a number lies in one of the spans; NULL where there is none."""

    def one(low: float | None, high: float | None) -> Truth:
        return and_(*([] if low is None else [column >= low]), *([] if high is None else [column <= high]))

    return or_(*(one(low, high) for low, high in spans))


def overlap(low: ColumnElement[Any], high: ColumnElement[Any], spans: Sequence[Span]) -> Truth:
    """Whether a pair overlaps a span; a pair without its high end goes on for ever."""

    def one(least: float | None, most: float | None) -> Truth:
        upper = [] if least is None else [or_(high.is_(None), high >= least)]
        lower = [] if most is None else [low <= most]
        return and_(low.is_not(None), *upper, *lower)

    return or_(*(one(least, most) for least, most in spans))


def _sort_key(attribute: Attribute, descending: bool) -> ColumnElement[Any]:
    """What variants are sorted by: the value, the end one of several; words in the order of their list."""
    words = attribute.kind in (Kind.CHOICE, Kind.TEXT, Kind.KEY)
    listed = _SEVERAL.text if words else _SEVERAL.number
    extreme = func.max if descending else func.min
    several = (
        select(extreme(_ranked(attribute, listed)))
        .where(
            _SEVERAL.variant == _VARIANT.variant,
            _SEVERAL.attribute == attribute.name,
        )
        .correlate(table("variant"))
        .scalar_subquery()
    )
    columns = columns_of(attribute)
    if not columns:
        return several
    return func.coalesce(_ranked(attribute, _VARIANT[columns[0]]), several)


def _ranked(attribute: Attribute, column: ColumnElement[Any]) -> ColumnElement[Any]:
    if attribute.kind is not Kind.CHOICE:
        return column
    return case({word: place for place, word in enumerate(attribute.values)}, value=column)
