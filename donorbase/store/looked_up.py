"""Rows by many numbers at once: one statement whatever their number, which each database takes in its own way."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, TextClause, text


@dataclass(frozen=True, slots=True)
class LookedUp:
    """A question of a column that is one of many numbers, as a file takes it and as a server does."""

    on_file: TextClause
    on_server: TextClause

    def rows(self, connection: Connection, numbers: Sequence[int], **more: object) -> Sequence[Any]:
        """The rows of these numbers."""
        if connection.dialect.name == "sqlite":
            return connection.execute(self.on_file, {"numbers": json.dumps(list(numbers)), **more}).all()
        return connection.execute(self.on_server, {"numbers": list(numbers), **more}).all()


def looked_up(asked: str, rest: str = "") -> LookedUp:
    """A question whose first part ends in the column: ``SELECT a, b FROM t WHERE a``."""
    return LookedUp(
        text(f"{asked} IN (SELECT value FROM json_each(:numbers)) {rest}"),
        text(f"{asked} = ANY(CAST(:numbers AS bigint[])) {rest}"),
    )
