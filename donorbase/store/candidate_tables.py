"""Candidates: listings kept for a build, each with its state, its verdict and everything that happened to it."""

from datetime import date, datetime

from sqlalchemy import UniqueConstraint
from sqlmodel import Field

from donorbase.store.naming import Row, in_order, one_of

STATES = ("watching", "asked", "visiting", "bought", "passed", "gone")
"""What a candidate can be in, in the order of a hunt."""
EVENTS = ("added", "state", "note", "correction", "price", "repost", "merge", "verdict", "undo")
"""What can happen to a candidate."""
VERDICTS = ("fits", "fits with work", "unclear", "does not fit")


class CandidateRow(Row, table=True):
    """A listing kept for a build. State and verdict are the present ones; how they came stands in the events.

    ``build`` is the name of a kept build, which may be forgotten and come back: its candidates stay.
    ``judged_with`` tells what the verdict rests on; NULL until it was judged, another one is judged anew.
    """

    __tablename__ = "candidate"
    __table_args__ = (
        UniqueConstraint("listing_id", "build"),
        one_of("state", STATES),
        one_of("verdict", VERDICTS),
        in_order("landed_low_usd", "landed_high_usd"),
    )
    id: int | None = Field(default=None, primary_key=True)
    listing_id: int = Field(foreign_key="listing.id", ondelete="RESTRICT")
    build: str = Field(index=True)
    state: str
    made_at: datetime
    changed_at: datetime
    verdict: str | None = None
    chance: float | None = None
    landed_low_usd: float | None = None
    landed_likely_usd: float | None = None
    landed_high_usd: float | None = None
    taken_for: str | None = None
    why: str | None = None
    judged_with: str | None = None
    judged_at: datetime | None = None


class CandidateEventRow(Row, table=True):
    """Something that happened to a candidate, on a day, noted at a time; never changed or deleted.

    ``detail`` is JSON of what an undoing needs; ``undoes`` is the event that an undoing took back.
    """

    __tablename__ = "candidate_event"
    __table_args__ = (one_of("kind", EVENTS), one_of("state_from", STATES), one_of("state_to", STATES))
    id: int | None = Field(default=None, primary_key=True)
    candidate_id: int = Field(foreign_key="candidate.id", ondelete="RESTRICT", index=True)
    kind: str
    happened_on: date
    noted_at: datetime
    who: str = ""
    state_from: str | None = None
    state_to: str | None = None
    note: str = ""
    detail: str = ""
    undoes: int | None = Field(default=None, foreign_key="candidate_event.id", ondelete="RESTRICT")
