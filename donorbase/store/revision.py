"""The newest schema this release knows, read off the names of the migrations, without alembic."""

from functools import cache

from donorbase.errors import BadDatabase
from donorbase.shipped import migrations_dir


@cache
def revisions() -> tuple[str, ...]:
    """Every revision, oldest first: the four digits each migration's name begins with."""
    names = sorted(path.name for path in (migrations_dir() / "versions").glob("[0-9][0-9][0-9][0-9]_*.py"))
    if not names:
        raise BadDatabase("the migrations of donorbase are missing", "Install donorbase again.")
    return tuple(name[:4] for name in names)


def newest_revision() -> str:
    """The revision a database has once it is up to date."""
    return revisions()[-1]
