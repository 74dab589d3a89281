"""By what kept listings are found: which sightings have a value, which words there are.

All of it follows from the sightings, their readings and their listings. It is not copied from one database to another:
what is not in the index yet is put into it when it is searched (``search_index.py``).
"""

from sqlmodel import Field

from donorbase.store.naming import Row


class SearchBitsRow(Row, table=True):
    """The sightings whose thing ``item`` (0: the whole offer) has a value, those of one piece (``bits.py``)."""

    __tablename__ = "search_bits"
    name: str = Field(primary_key=True)
    value: str = Field(primary_key=True)
    item: int = Field(primary_key=True)
    piece: int = Field(primary_key=True, index=True)
    bits: bytes


class SearchDueRow(Row, table=True):
    """A sighting that changed since it was put into the index; one beyond the last that is there needs no row."""

    __tablename__ = "search_due"
    sighting_id: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})


class SearchWordRow(Row, table=True):
    """A word of the texts, in small letters, by which one misspelt is found."""

    __tablename__ = "search_word"
    word: str = Field(primary_key=True)
