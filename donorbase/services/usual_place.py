"""Where the database lies that nobody named: found without opening anything, so that completion is quick."""

import sys
from collections.abc import Mapping
from pathlib import Path

FILE = "donorbase.sqlite3"


def default_database(env: Mapping[str, str], platform: str = sys.platform, home: Path | None = None) -> str:
    """Where the database lies: ``DONORBASE_DB``, else a file in the platform's folder for user data."""
    if named := env.get("DONORBASE_DB"):
        return named
    at_home = home or Path.home()
    if platform == "win32":
        folder = Path(env.get("LOCALAPPDATA") or at_home / "AppData" / "Local")
    elif platform == "darwin":
        folder = at_home / "Library" / "Application Support"
    else:
        folder = Path(env.get("XDG_DATA_HOME") or at_home / ".local" / "share")
    return str(folder / "donorbase" / FILE)
