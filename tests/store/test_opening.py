"""A database is made, migrated and seeded on first use; what cannot be used is told and left as it was."""

import multiprocessing
import os
import signal
import sqlite3
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest
from sqlalchemy import Connection, Engine, select, text

from donorbase.errors import BadDatabase
from donorbase.reference.load import load_catalogue
from donorbase.reference.words import load_words
from donorbase.shipped import data_fingerprint
from donorbase.store.backup import KEPT, backup_folder, copy_before_migration, copy_to, restore_from
from donorbase.store.engine import engine_of, writer
from donorbase.store.file_check import APPLICATION_ID, in_plain
from donorbase.store.migrate import revision_of, upgrade
from donorbase.store.opening import open_database
from donorbase.store.revision import newest_revision, revisions
from donorbase.store.rows import catalogue_of
from donorbase.store.schema import table
from donorbase.store.seed import read_shipped, seed
from donorbase.store.words import read_words

from .conftest import NOW, opened  # type: ignore[import-not-found]  # tests are no package for mypy

pytestmark = pytest.mark.sqlite


def counted(engine: Engine, name: str) -> int:
    with engine.connect() as connection:
        return len(connection.execute(select(table(name))).all())


def test_made_on_first_use_with_its_folders(tmp_path: Path) -> None:
    path = tmp_path / "a folder" / "50% new" / "donorbase.sqlite3"
    engine = opened(path)
    assert counted(engine, "variant") > 100
    with engine.connect() as connection:
        assert revision_of(connection) == newest_revision()
        assert connection.execute(text("PRAGMA journal_mode")).scalar() == "wal"
        assert connection.execute(text("PRAGMA foreign_keys")).scalar() == 1
        assert connection.execute(text("PRAGMA application_id")).scalar() == APPLICATION_ID
    engine.dispose()


def test_an_up_to_date_database_is_neither_seeded_nor_migrated(path: Path) -> None:
    def never(_: Connection) -> None:
        raise AssertionError("seeded again")

    open_database(str(path), data_fingerprint(), never, NOW).dispose()
    assert not backup_folder(path).exists()


NO_DATABASES = [
    pytest.param(b"just some words, no database at all", "another kind of file", id="a text"),
    pytest.param(b"SQLite format 3\0" + b"\xff" * 4080, "damaged", id="a head and rubbish"),
]


@pytest.mark.parametrize(("content", "said"), NO_DATABASES)
def test_another_kind_of_file_is_refused_and_kept(tmp_path: Path, content: bytes, said: str) -> None:
    path = tmp_path / "file"
    path.write_bytes(content)
    with pytest.raises(BadDatabase, match=said) as wrong:
        opened(path)
    assert wrong.value.next_step
    assert wrong.value.exit_code == 6
    assert path.read_bytes() == content


def test_a_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadDatabase, match="is a folder"):
        opened(tmp_path)


def test_a_strangers_database_is_refused_and_kept(tmp_path: Path) -> None:
    path = tmp_path / "theirs.db"
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE customer (name TEXT)")
    before = path.read_bytes()
    with pytest.raises(BadDatabase, match="another program"):
        opened(path)
    assert path.read_bytes() == before


def test_a_newer_database_is_refused_and_kept(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
        connection.commit()
    with pytest.raises(BadDatabase, match="newer release") as wrong:
        opened(path)
    assert "Update donorbase" in wrong.value.next_step
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchone() == ("9999",)
    assert not backup_folder(path).exists()


def test_a_damaged_database_is_told(path: Path) -> None:
    content = bytearray(path.read_bytes())
    for page in range(1, len(content) // 4096):
        content[page * 4096 : page * 4096 + 200] = b"\xff" * 200
    path.write_bytes(content)
    with pytest.raises(BadDatabase, match="damaged") as wrong:
        counted(opened(path, "other facts"), "variant")
    assert "backup" in wrong.value.next_step


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may write everywhere")
def test_a_folder_without_rights_is_told(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    with pytest.raises(BadDatabase, match="may not be written"):
        opened(tmp_path / "donorbase.sqlite3")
    tmp_path.chmod(0o700)


def test_missing_rights_are_told(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(BadDatabase, match="may not be written"):
        opened(path)


def test_a_database_kept_locked_is_told(path: Path) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        engine = engine_of(str(path), busy_ms=50)
        with pytest.raises(Exception, match="locked") as wrong, writer(engine).begin():
            pass
        engine.dispose()
    assert "in use" in in_plain(path, str(wrong.value)).what


def test_a_fault_in_the_first_filling_leaves_no_tables(tmp_path: Path) -> None:
    path = tmp_path / "donorbase.sqlite3"

    def broken(_: Connection) -> None:
        raise RuntimeError("pulled the plug")

    with pytest.raises(RuntimeError):
        open_database(str(path), "facts", broken, NOW)
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT name FROM sqlite_master").fetchall() == []
    engine = opened(path)
    assert counted(engine, "variant") > 100
    engine.dispose()


def _open_in_a_process(path: str) -> int:
    engine = opened(Path(path))
    try:
        return counted(engine, "variant")
    finally:
        engine.dispose()


def test_several_processes_may_make_it_at_once(tmp_path: Path) -> None:
    path = str(tmp_path / "donorbase.sqlite3")
    with multiprocessing.get_context("fork").Pool(3) as pool:
        counts = pool.map(_open_in_a_process, [path] * 3)
    assert len(set(counts)) == 1
    assert counts[0] > 100


def test_an_older_database_is_copied_before_it_is_migrated(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(
            "INSERT INTO build VALUES ('mine', 'name = 1', '2026-01-01 00:00:00', '2026-01-01 00:00:00')"
        )
        connection.commit()
    copy = copy_before_migration(path, "0001", NOW)
    with closing(sqlite3.connect(copy)) as connection:
        assert connection.execute("SELECT name FROM build").fetchall() == [("mine",)]
    assert [p.name for p in backup_folder(path).iterdir()] == [copy.name], "no half-written file is left"


def test_an_older_schema_is_migrated_and_what_was_in_it_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "donorbase.sqlite3"
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(f"PRAGMA application_id={APPLICATION_ID}")
    older = engine_of(str(path), foreign_keys=False)
    with writer(older).begin() as migrating:
        upgrade(migrating, revisions()[0])
        migrating.execute(text("INSERT INTO donor_line VALUES ('line-X', 0, 'of an older release')"))
    older.dispose()
    engine = opened(path)
    with engine.connect() as connection_:
        assert revision_of(connection_) == newest_revision()
    assert counted(engine, "variant") > 100
    engine.dispose()
    (copy,) = backup_folder(path).iterdir()
    with closing(sqlite3.connect(copy)) as connection:
        assert connection.execute("SELECT line FROM donor_line").fetchall() == [("line-X",)]
        assert connection.execute("SELECT version_num FROM alembic_version").fetchone() == (revisions()[0],)


def test_a_migration_that_fails_leaves_the_database_as_it_was(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = ?", revisions()[:1])
        connection.commit()
    with pytest.raises(BadDatabase, match="already exists"):
        opened(path)
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchone() == revisions()[:1]
        assert connection.execute("SELECT count(*) FROM variant").fetchone()[0] > 100
    assert len(list(backup_folder(path).iterdir())) == 1


def _die_while_filling(path: str) -> None:
    def killed(connection: Connection) -> None:
        seed(connection, load_catalogue(), (), "other")
        os.kill(os.getpid(), signal.SIGKILL)

    open_database(path, "other", killed, NOW)


def test_killed_while_filling_nothing_is_half(path: Path) -> None:
    dying = multiprocessing.get_context("fork").Process(target=_die_while_filling, args=(str(path),))
    dying.start()
    dying.join(30)
    assert dying.exitcode == -signal.SIGKILL
    engine = engine_of(str(path))
    with engine.connect() as connection:
        assert read_words(connection, "shipped") == load_words()
        assert catalogue_of(read_shipped(connection)) == load_catalogue()
    engine.dispose()


def test_the_last_ten_copies_are_kept_and_those_the_user_made(path: Path) -> None:
    by_hand = backup_folder(path) / "20250101.sqlite3"
    copy_to(path, by_hand)
    made = [copy_before_migration(path, "0001", NOW + timedelta(minutes=m)) for m in range(KEPT + 3)]
    kept = set(backup_folder(path).iterdir())
    assert kept == {by_hand, *made[-KEPT:]}


def test_a_copy_never_overwrites(path: Path, tmp_path: Path) -> None:
    target = tmp_path / "copy.sqlite3"
    target.write_text("precious")
    with pytest.raises(BadDatabase, match="exists already"):
        copy_to(path, target)
    assert target.read_text() == "precious"


def test_a_damaged_copy_is_not_restored(path: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.sqlite3"
    copy_to(path, copy)
    content = bytearray(copy.read_bytes())
    content[8192 : len(content) // 2] = b"\xff" * (len(content) // 2 - 8192)
    copy.write_bytes(content)
    before = path.read_bytes()
    with pytest.raises(BadDatabase, match="damaged"):
        restore_from(path, copy)
    assert path.read_bytes() == before


def _fall(path: str) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("REPLACE INTO setting VALUES ('worked by', ?)", (str(os.getpid()),))
        connection.commit()
        os.kill(os.getpid(), signal.SIGKILL)


def fallen(path: Path) -> None:
    """A process that works with the file is killed."""
    dying = multiprocessing.get_context("fork").Process(target=_fall, args=(str(path),))
    dying.start()
    dying.join(30)
    assert path.with_name(f"{path.name}-wal").stat().st_size


def spoil(path: Path) -> None:
    """Overwrite a page of an index: a query by it gives wrong answers, and nothing else tells."""
    with closing(sqlite3.connect(path)) as connection:
        (root,) = connection.execute("SELECT min(rootpage) FROM sqlite_master WHERE name LIKE 'ix_variant%'").fetchone()
    content = bytearray(path.read_bytes())
    content[(root - 1) * 4096 : root * 4096] = bytes(4096)
    path.write_bytes(content)


def test_one_that_was_not_closed_well_is_looked_through(path: Path) -> None:
    fallen(path)
    opened(path).dispose()
    spoil(path)
    opened(path).dispose()  # closed well: not looked through
    fallen(path)
    with pytest.raises(BadDatabase, match="damaged since it was last used") as wrong:
        opened(path)
    assert "salvage" in wrong.value.next_step


def test_one_that_another_has_open_is_not_looked_through(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def looked(_: Path) -> tuple[str, ...]:
        raise AssertionError("looked through while another works with it")

    monkeypatch.setattr("donorbase.store.soundness.faults_of", looked)
    with closing(sqlite3.connect(path)) as other:
        other.execute("INSERT INTO build VALUES ('x', '', '2026-01-01 00:00:00', '2026-01-01 00:00:00')")
        other.commit()
        opened(path).dispose()
        assert other.execute("SELECT name FROM build").fetchall() == [("x",)]


def test_all_its_files_are_for_their_owner_alone(tmp_path: Path) -> None:
    path = tmp_path / "folder" / "donorbase.sqlite3"
    engine = opened(path)
    with writer(engine).begin() as connection:
        connection.execute(text("DELETE FROM work"))
    copy_to(path, tmp_path / "copies" / "one.sqlite3")
    copy_before_migration(path, "0001", NOW)
    made = [file for file in tmp_path.rglob("*") if file.is_file()]
    assert len(made) >= 5, "the database, its log and its index, and two copies"
    assert {oct(file.stat().st_mode & 0o777) for file in made} == {"0o600"}
    assert {oct(folder.stat().st_mode & 0o777) for folder in (path.parent, backup_folder(path))} == {"0o700"}
    engine.dispose()
