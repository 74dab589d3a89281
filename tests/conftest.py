"""Databases of the tests' own: files, or on a PostgreSQL server where DONORBASE_TEST_URL names one.

`.ci/with-postgresql pytest tests/store` starts such a server. Tests of what a file alone has are marked `sqlite`.
"""

import os
import shutil
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest
from hypothesis import settings

# How long an example takes says more of the machine's other work than of the program.
settings.register_profile("house", deadline=None)
settings.register_profile("mutants", settings.get_profile("house"), max_examples=25, derandomize=True, database=None)
settings.load_profile("house")

SERVER = os.environ.get("DONORBASE_TEST_URL", "")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """On a server leave out what is about files alone; without one, what is about servers alone."""
    other = "sqlite" if SERVER else "postgresql"
    left_out = [item for item in items if item.get_closest_marker(other)]
    items[:] = [item for item in items if not item.get_closest_marker(other)]
    config.hook.pytest_deselected(items=left_out)


class Databases:
    """Places for databases, by path or URL. Those on the server are dropped at the end."""

    def __init__(self) -> None:
        self._numbers = count()
        self._made: list[str] = []

    def new(self, folder: Path) -> str:
        """A place where no database is yet; on a server an empty one, since there the program makes none."""
        if not SERVER:
            return str(folder / f"own{next(self._numbers)}.sqlite3")
        return self._create("template0")

    def copy(self, place: str, folder: Path) -> str:
        """A copy of a database that nobody has open."""
        if SERVER:
            return self._create(_name(place))
        copy = folder / "donorbase.sqlite3"
        for file in Path(place).parent.glob(f"{Path(place).name}*"):
            if file.is_file():
                shutil.copy(file, f"{copy}{file.name.removeprefix(Path(place).name)}")
        return str(copy)

    def drop_all(self) -> None:
        for name in self._made:
            _on_server(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)')

    def drop(self, place: str) -> None:
        """Drop it on the server at once: there, every copy of a test's takes ten megabytes of memory."""
        if SERVER:
            _on_server(f'DROP DATABASE "{_name(place)}" WITH (FORCE)')

    def _create(self, template: str) -> str:
        name = f"test_{os.getpid()}_{next(self._numbers)}"
        self._made.append(name)
        _on_server(f'CREATE DATABASE "{name}" TEMPLATE "{template}" STRATEGY FILE_COPY')
        server, _, options = SERVER.partition("?")
        return f"{server.rpartition('/')[0]}/{name}?{options}"


def _name(url: str) -> str:
    return url.partition("?")[0].rpartition("/")[2]


def _on_server(command: str) -> None:
    import psycopg

    with psycopg.connect(SERVER.replace("+psycopg", ""), autocommit=True) as connection:
        connection.execute(command.encode())


@pytest.fixture(scope="session", autouse=True)
def _usual_width() -> Iterator[None]:
    """Tests that run side by side are told the width of somebody's terminal; output is as it is in a pipe."""
    with pytest.MonkeyPatch.context() as patch:
        patch.delenv("COLUMNS", raising=False)
        yield


@pytest.fixture(scope="session", autouse=True)
def _data_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """What goes into the user's folder for data, such as copies of databases on servers, goes elsewhere."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_DATA_HOME", str(tmp_path_factory.mktemp("data")))
        yield


@pytest.fixture(scope="session")
def databases() -> Iterator[Databases]:
    made = Databases()
    yield made
    made.drop_all()


@pytest.fixture
def new_place(databases: Databases, tmp_path: Path, request: pytest.FixtureRequest) -> Callable[[], str]:
    """Makes places where no database is yet."""

    def make() -> str:
        place = databases.new(tmp_path)
        request.addfinalizer(lambda: databases.drop(place))
        return place

    return make
