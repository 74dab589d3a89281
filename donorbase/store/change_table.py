"""Who changed what, and when: of whatever has no history of its own."""

from datetime import datetime

from sqlmodel import Field

from donorbase.store.naming import Row


class ChangeRow(Row, table=True):
    """One row of another table as it was before and as it became, in JSON; empty where there was none.

    ``who`` is the name given by the program that wrote, ``login`` the one that the server knows them by.
    """

    __tablename__ = "change"
    id: int | None = Field(default=None, primary_key=True)
    noted_at: datetime
    who: str
    login: str
    of_table: str
    name: str = Field(index=True)
    before: str
    after: str
