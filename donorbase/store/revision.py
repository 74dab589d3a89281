"""The schemas this release knows, read off the migrations, without alembic."""

import re
from functools import cache

from donorbase.errors import BadDatabase
from donorbase.shipped import migrations_dir


@cache
def revisions() -> tuple[str, ...]:
    """Every revision, oldest first, as each migration names the one before it."""
    after: dict[str, str] = {}
    for path in (migrations_dir() / "versions").glob("[0-9][0-9][0-9][0-9]_*.py"):
        named = re.search(r"^down_revision = (?:\"(\w+)\"|None)$", path.read_text("utf-8"), re.MULTILINE)
        after[(named and named[1]) or ""] = path.name[:4]
    found = list[str]()
    while (last := found[-1] if found else "") in after:
        found.append(after.pop(last))
    if not found or after:
        raise BadDatabase("the migrations of donorbase are not whole", "Install donorbase again.")
    return tuple(found)


def newest_revision() -> str:
    """The revision a database has once it is up to date."""
    return revisions()[-1]
