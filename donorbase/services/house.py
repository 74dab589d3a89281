"""The user's house: his database, made and brought up to date when first used, and what it holds.

The store's libraries take most of a second to import. A command that only reads gets its rows from the
picture beside the database, as long as that is of the present state; all else goes through the store.
"""

import os
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from donorbase import __version__
from donorbase.errors import BadInput, NotFound
from donorbase.reading.lexicon import Lexicon
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.words import Word
from donorbase.services.near import near_keys
from donorbase.services.usual_place import default_database
from donorbase.shipped import data_fingerprint
from donorbase.store.backup import backup_folder
from donorbase.store.picture import Stamp, read_picture, stamp_of, write_picture
from donorbase.store.revision import newest_revision
from donorbase.store.rows import Rows, catalogue_of
from donorbase.store.server import is_server, name_of
from donorbase.store.word_rows import word_of

if TYPE_CHECKING:
    from donorbase.store.engine import Connection, Engine

_LEXICON = "lexicon"
"""What is drawn beside the tables: the words as the reader looks them up."""


def words_in(rows: Rows) -> tuple[Word, ...]:
    """The words of the trade in those rows, then those the user taught."""
    return tuple(word_of(row) for row in rows["word"])


def lexicon_in(rows: Rows) -> Lexicon:
    """The same words, arranged for reading."""
    return Lexicon.unpacked(rows[_LEXICON][0]["packed"])


@dataclass(frozen=True, slots=True)
class KeptBuild:
    """A build as its owner wrote it, with the times (aware, UTC) it was first kept and last changed."""

    name: str
    toml: str
    made_at: datetime
    changed_at: datetime

    def as_json(self) -> dict[str, Any]:
        """Plain data; times in ISO 8601."""
        return {
            "name": self.name,
            "toml": self.toml,
            "made_at": self.made_at.isoformat(),
            "changed_at": self.changed_at.isoformat(),
        }


class House:
    """What the database at ``place``, a path or a URL, holds. Nothing is opened before it is asked for.

    ``who`` stands beside each change. Any of the methods raises BadDatabase where the database cannot be used.
    """

    def __init__(self, place: str | Path, who: str = "") -> None:
        self.place, self.who = str(place), who
        self.watch: Callable[[str], AbstractContextManager[None]] = lambda _: nullcontext()
        """What is told, by whoever talks with the user, while something takes long."""
        self._rows: Rows | None = None
        self._catalogue: Catalogue | None = None

    @property
    def path(self) -> Path | None:
        """The file of the database, None where it is on a server."""
        return None if is_server(self.place) else Path(self.place)

    @property
    def backups(self) -> Path:
        """Where copies of it lie: beside its file; of one on a server in the user's folder for data."""
        if self.path:
            return backup_folder(self.path)
        usual = Path(default_database({**os.environ, "DONORBASE_DB": ""}))
        return usual.parent / "server-backups" / name_of(self.place)

    @property
    def store_is_open(self) -> bool:
        """Whether the store was needed already, so that asking it again costs little."""
        return "engine" in self.__dict__

    @cached_property
    def engine(self) -> "Engine":
        """The open database, brought up to date."""
        from donorbase.reference.load import load_catalogue
        from donorbase.reference.words import load_words
        from donorbase.store.opening import open_database
        from donorbase.store.seed import seed

        facts = data_fingerprint()
        with self.watch("Bringing the database up to date"):
            return open_database(
                self.place,
                facts,
                lambda connection: seed(connection, load_catalogue(), load_words(), facts),
                datetime.now(UTC),
                self.backups,
            )

    def state(self) -> str:
        """A mark that changes with the facts, words and builds; empty where it cannot be had without opening all."""
        stamp = stamp_of(self.path, __version__) if self.path else None
        return stamp.state if stamp else ""

    def rows(self) -> Rows:
        """Every row of facts, words and builds, by table."""
        if self._rows is None:
            self._rows = self._pictured() or self._drawn()
        return self._rows

    def catalogue(self) -> Catalogue:
        """The catalogue as the database holds it."""
        if self._catalogue is None:
            self._catalogue = catalogue_of(self.rows())
        return self._catalogue

    def fresh_catalogue(self) -> Catalogue:
        """The catalogue read from the database itself, whatever the picture says."""
        self._rows, self._catalogue = self._drawn(), None
        return self.catalogue()

    def close(self) -> None:
        """Let go of the database and of what was read from it."""
        if self.store_is_open:
            self.engine.dispose()
            del self.__dict__["engine"]
        self._rows = self._catalogue = None

    def words(self) -> tuple[Word, ...]:
        """The words of the trade, then those the user taught."""
        return words_in(self.rows())

    def builds(self) -> tuple[KeptBuild, ...]:
        """The builds kept, by name."""
        return tuple(
            KeptBuild(
                row["name"],
                row["toml"],
                datetime.fromisoformat(row["made_at"]),
                datetime.fromisoformat(row["changed_at"]),
            )
            for row in self.rows()["build"]
        )

    def build(self, name: str) -> KeptBuild:
        """The build of that name; NotFound names those near it."""
        builds = {build.name: build for build in self.builds()}
        if name in builds:
            return builds[name]
        near = near_keys(name, builds)
        hint = f"Near it: {', '.join(near)}." if near else "`donorbase build list` shows those that are kept."
        raise NotFound(f"there is no build named {name!r}", hint)

    def keep_build(self, name: str, toml: str) -> bool:
        """Keep the text of a build under a name; whether it is new. Whoever reads the text checks it."""
        from donorbase.store import builds

        if not name.strip() or name != name.strip():
            raise BadInput(f"{name!r} is no name for a build", "Give it a name without blanks around it.")
        with self.writing() as connection:
            return builds.keep_build(connection, name, toml, datetime.now(UTC))

    def forget_build(self, name: str) -> None:
        """Forget a build; NotFound where there is none of that name."""
        from donorbase.store import builds

        self.build(name)
        with self.writing() as connection:
            builds.forget_build(connection, name)

    @contextmanager
    def writing(self) -> Iterator["Connection"]:
        """A transaction, committed at its end and undone by any error; then the picture is drawn anew."""
        from donorbase.store.changes import note_changes, read_own

        with self.keeping() as connection:
            before = read_own(connection)
            yield connection
            note_changes(connection, before, self.who, datetime.now(UTC))
        self._rows = self._drawn()
        self._catalogue = None

    @contextmanager
    def keeping(self) -> Iterator["Connection"]:
        """As ``writing``, for what the picture does not show (listings, candidates, yards): it stays as it is."""
        from donorbase.store.engine import writer
        from donorbase.store.opening import spoken

        with spoken(self.place), writer(self.engine).begin() as connection:
            yield connection

    def tell(self, connection: "Connection", of_table: str, name: str, what: str) -> None:
        """Write down, with the change itself, who did something that ``writing`` does not see."""
        from donorbase.store.changes import note_change

        note_change(connection, of_table, name, "", what, who=self.who, now=datetime.now(UTC))

    @contextmanager
    def reading(self) -> Iterator["Connection"]:
        """A transaction that sees one state of the database."""
        from donorbase.store.engine import reader
        from donorbase.store.opening import spoken

        with spoken(self.place), reader(self.engine).connect() as connection:
            yield connection

    def _packed_lexicon(self, words: list[dict[str, Any]]) -> list[dict[str, Any]]:
        """The lexicon of those words; the one there is where they are the same, since making one takes long."""
        if self._rows is not None and self._rows["word"] == words:
            return self._rows[_LEXICON]
        return [{"packed": Lexicon.build(map(word_of, words)).packed()}]

    def _pictured(self) -> Rows | None:
        """The rows of the picture where it is of the present state and of this release's facts."""
        stamp = stamp_of(self.path, __version__) if self.path else None
        if not self.path or not stamp:
            return None
        present = stamp.revision == newest_revision() and stamp.facts == data_fingerprint()
        return read_picture(self.path, stamp) if present else None

    def _drawn(self) -> Rows:
        """The rows from the database itself, and the picture drawn from them."""
        from donorbase.store.builds import read_builds
        from donorbase.store.corrections import read_corrections, read_refusals
        from donorbase.store.migrate import revision_of
        from donorbase.store.own import OWN_RATES, read_claims, read_priors
        from donorbase.store.seed import read_shipped
        from donorbase.store.settings import FACTS, STATE, setting
        from donorbase.store.words import read_word_rows

        with self.reading() as connection:
            rows = dict(read_shipped(connection))
            rows |= {"word": read_word_rows(connection), "build": read_builds(connection)}
            rows |= {"own_prior": read_priors(connection), "claim": read_claims(connection)}
            rows |= {"correction": read_corrections(connection), "refused_phrase": read_refusals(connection)}
            rows |= {OWN_RATES: [{"value": setting(connection, OWN_RATES)}]}
            stamp = Stamp(
                revision_of(connection) or "",
                setting(connection, FACTS),
                setting(connection, STATE),
                __version__,
            )
        rows |= {_LEXICON: self._packed_lexicon(rows["word"])}
        if self.path:
            write_picture(self.path, stamp, rows)
        return rows
