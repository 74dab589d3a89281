"""Catalogue and words keep their meaning on the way into rows and back."""

import random

from sqlalchemy import Connection

from donorbase.reference.load import load_catalogue
from donorbase.reference.words import load_words, parse_meaning
from donorbase.store.rows import SHIPPED_TABLES, catalogue_of, rows_of
from donorbase.store.seed import read_shipped
from donorbase.store.word_rows import meaning_text
from donorbase.store.words import read_words


def test_catalogue_survives_the_rows() -> None:
    assert catalogue_of(rows_of(load_catalogue())) == load_catalogue()


def test_catalogue_survives_the_database(connection: Connection) -> None:
    found = catalogue_of(read_shipped(connection))
    assert found == load_catalogue()
    assert list(found.variants) == list(load_catalogue().variants), "the order of the files is kept"
    assert len(found.variants) > 100


def test_types_survive_the_database(connection: Connection) -> None:
    """Equality takes 16 for 16.0 and 1 for True; JSON does not."""
    found, shipped = catalogue_of(read_shipped(connection)), load_catalogue()
    for key, variant in shipped.variants.items():
        for name, figure in variant.figures.items():
            assert repr(found.variants[key].figures[name].values) == repr(figure.values), (key, name)


def test_order_of_rows_does_not_matter() -> None:
    rows = rows_of(load_catalogue())
    for table in SHIPPED_TABLES:
        random.Random(table).shuffle(rows[table])
    assert catalogue_of(rows) == load_catalogue()


def test_rows_of_a_table_have_the_same_columns() -> None:
    for name, rows in rows_of(load_catalogue()).items():
        assert rows, name
        assert len({tuple(sorted(row)) for row in rows}) == 1, name


def test_words_survive_the_database(connection: Connection) -> None:
    assert read_words(connection, "shipped") == load_words()
    assert len(load_words()) > 1000


def test_every_shipped_meaning_survives_as_text() -> None:
    for word in load_words():
        assert parse_meaning(meaning_text(word.meanings), roles=True) == word.meanings


def test_meanings_of_every_kind_survive_as_text() -> None:
    texts = [
        "years=1999-2004",
        "years=2011-",
        "abs=true",
        "abs=false",
        "lugs=8",
        "ratio=4.1",
        "brakes+=disc; float=full",
    ]
    for text in texts:
        meaning = parse_meaning(text)
        assert parse_meaning(meaning_text(meaning)) == meaning
