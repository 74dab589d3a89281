"""Files that their owner alone may read: listings hold the names and numbers of people who never asked to be kept."""

import os
from pathlib import Path


def make_private(path: Path) -> None:
    """An empty file for its owner alone, where there is none yet. SQLite gives its logs the rights of the file."""
    os.close(os.open(path, os.O_WRONLY | os.O_CREAT, 0o600))


def make_private_folder(path: Path) -> None:
    """A folder for its owner alone, where there is none yet; folders above it are made as usual."""
    path.mkdir(mode=0o700, parents=True, exist_ok=True)
