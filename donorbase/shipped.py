"""Where data/ and migrations/ lie: the only module that knows how donorbase was installed."""

from functools import cache
from hashlib import sha256
from pathlib import Path

from donorbase.errors import BadData

_PACKAGE = Path(__file__).parent


@cache
def _folder(name: str) -> Path:
    # In a wheel the folder lies inside the package; in a checkout beside it. The guard on pyproject.toml
    # keeps a stranger's site-packages/data from being taken for ours.
    inside, beside = _PACKAGE / name, _PACKAGE.parent / name
    if inside.is_dir():
        return inside
    if beside.is_dir() and (_PACKAGE.parent / "pyproject.toml").is_file():
        return beside
    raise BadData(
        f"the folder {name}/ of donorbase is missing", [f"looked in {inside}", f"looked in {beside}"],
        "Install donorbase again.",
    )  # fmt: skip


def data_dir() -> Path:
    """The folder of shipped facts."""
    return _folder("data")


def migrations_dir() -> Path:
    """The folder of database migrations."""
    return _folder("migrations")


@cache
def data_fingerprint() -> str:
    """A fingerprint of every shipped fact, names and contents: another one means other facts."""
    return fingerprint_of(data_dir())


def fingerprint_of(folder: Path) -> str:
    """The fingerprint of a folder of the shape of ``data/``."""
    digest = sha256()
    paths = [*folder.glob("*.toml"), *folder.glob("*.csv"), *folder.glob("families/*.toml")]
    for path in sorted(paths):
        content = path.read_bytes()
        digest.update(f"{path.relative_to(folder).as_posix()}\0{len(content)}\0".encode())
        digest.update(content)
    return digest.hexdigest()
