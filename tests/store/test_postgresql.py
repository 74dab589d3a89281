"""The same code on PostgreSQL: a throw-away cluster where one can be had, else skipped with the reason."""

import importlib.util
import os
import random
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from donorbase.reference.load import load_catalogue
from donorbase.services import words
from donorbase.services.find import find_plain
from donorbase.services.house import House
from donorbase.store.find import find_variants

from .test_find import random_condition  # type: ignore[import-not-found]  # tests are no package for mypy

BINARIES = sorted(Path("/usr/lib/postgresql").glob("*/bin"))
WHY_NOT = (
    "psycopg is not installed (pip install donorbase[postgresql])"
    if importlib.util.find_spec("psycopg") is None
    else ""
    if BINARIES
    else "no PostgreSQL server in /usr/lib/postgresql (apt-get install postgresql)"
)

pytestmark = [pytest.mark.slow, pytest.mark.skipif(bool(WHY_NOT), reason=WHY_NOT)]


def free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


@pytest.fixture(scope="module")
def url() -> Iterator[str]:
    """A cluster of its own in a folder that the server's user may enter; initdb refuses to run as root."""
    folder, port = Path(tempfile.mkdtemp(prefix="pgtest.")), free_port()
    run = ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []
    if run:
        shutil.chown(folder, "postgres")
    initdb, pg_ctl = (str(BINARIES[-1] / name) for name in ("initdb", "pg_ctl"))
    options = f"-c listen_addresses=127.0.0.1 -p {port} -c unix_socket_directories={folder} -c fsync=off"
    form = ["-U", "postgres", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync"]
    quiet = {"check": True, "stdout": subprocess.DEVNULL, "cwd": "/"}
    subprocess.run([*run, initdb, "-D", f"{folder}/data", *form], **quiet)
    start = [*run, pg_ctl, "-D", f"{folder}/data", "-w", "-s", "-l", f"{folder}/log", "-o", options, "start"]
    subprocess.run(start, **quiet)
    yield f"postgresql+psycopg://postgres@127.0.0.1:{port}/postgres"
    subprocess.run([*run, pg_ctl, "-D", f"{folder}/data", "-s", "-m", "immediate", "stop"], **quiet)
    shutil.rmtree(folder)


@pytest.fixture
def house(url: str) -> Iterator[House]:
    house = House(url)
    yield house
    house.close()


def test_the_catalogue_is_the_same(house: House) -> None:
    assert house.catalogue() == load_catalogue()


def test_sql_and_python_agree(house: House) -> None:
    chance, catalogue = random.Random(5), house.catalogue()
    with house.reading() as connection:
        for _ in range(60):
            conditions = [random_condition(chance, catalogue) for _ in range(chance.randint(1, 3))]
            assert find_variants(connection, conditions, "drop", True) == find_plain(
                catalogue, conditions, "drop", True
            )


def test_words_and_builds_are_kept(house: House) -> None:
    taught = words.add_word(house, "grazier", "lugs=8").word
    house.keep_build("rock truck", "name = 'rock truck'")
    again = House(house.place)
    assert words.list_words(again) == (taught,)
    assert again.build("rock truck").made_at.tzinfo is not None
    again.close()
