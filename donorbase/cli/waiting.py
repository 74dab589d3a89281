"""What is said while something takes long whose end cannot be reckoned: a migration, a copy, a search for pairs.

Where the end can be reckoned, ``candidate_judge.bar`` shows how far it is.
"""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Event, Thread

FIRST_S = 1.0
AGAIN_S = 10.0


@contextmanager
def working(label: str) -> Iterator[None]:
    """Tell on standard error, where a person looks at it, what takes longer than a second, and every ten again."""
    from donorbase.cli.output import tell

    done = Event()

    def watch() -> None:
        if done.wait(FIRST_S):
            return
        seconds = FIRST_S
        tell(f"{label} ...", err=True)
        while not done.wait(AGAIN_S):
            seconds += AGAIN_S
            tell(f"{label} ... {seconds:.0f} s", err=True)

    watcher = Thread(target=watch, daemon=True)
    if sys.stderr.isatty():
        watcher.start()
    try:
        yield
    finally:
        done.set()
        if watcher.is_alive():
            watcher.join()
