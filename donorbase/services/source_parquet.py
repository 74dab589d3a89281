"""Rows of a Parquet file, streamed by DuckDB."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from donorbase.errors import BadInput
from donorbase.services.source_fields import columns_for

_AT_ONCE = 1000
"""Rows in memory at a time."""


def parquet_rows(path: Path, chosen: Mapping[str, str], told: str) -> Iterator[dict[str, Any]]:
    """The fields of each row; BadInput where DuckDB is not installed or the file is none of Parquet."""
    try:
        import duckdb
    except ImportError:
        raise BadInput("DuckDB is not installed", "pip install 'donorbase[parquet]'") from None
    with duckdb.connect() as connection:
        try:
            # The file is streamed in its own order; its name is a parameter, never part of the query.
            rows = connection.execute("select * from read_parquet($1)", [str(path)])
        except duckdb.Error as wrong:
            raise BadInput(f"{told} is no Parquet file ({str(wrong).splitlines()[0]})", "Check the file.") from None
        heads = [column[0] for column in rows.description or ()]
        columns = columns_for(heads, chosen, told)
        while some := rows.fetchmany(_AT_ONCE):
            for row in some:
                yield {name: row[heads.index(head)] for name, head in columns.items()}
