"""One family of errors: what is wrong, where, and what to do next.

DonorbaseError
├── BadInput          a text, file or option that cannot be used as it is
│   └── BadData       rows of data/ or of a file of the user's; carries every fault at once
├── NotFound          a key, build or file that is not there; names the near ones
├── Held              a part of the shelf that something else holds already
└── BadDatabase       no rights, or made by a newer release
    └── Damaged       the file of the database is not whole

Facts that a listing does not state are no errors, and neither is a verdict that one does not like: only what
keeps the program from going on is raised. ``cli`` prints ``what`` and ``next_step`` on stderr and leaves with
``exit_code``.
"""

from collections.abc import Sequence


class DonorbaseError(Exception):
    """What is wrong (``what``, with its place) and what to do next (``next_step``)."""

    exit_code = 1

    def __init__(self, what: str, next_step: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.next_step = next_step


class BadInput(DonorbaseError):
    """The user's text, file or option cannot be used as it is."""

    exit_code = 3


class BadData(BadInput):
    """Rows that do not pass the check; ``faults`` holds one line each, with file and line number."""

    exit_code = 4

    def __init__(self, what: str, faults: Sequence[str], next_step: str = "") -> None:
        super().__init__("\n".join([what, *(f"  {fault}" for fault in faults)]), next_step)
        self.faults = tuple(faults)


class NotFound(DonorbaseError):
    """Something asked for by name is not there."""

    exit_code = 5


class BadDatabase(DonorbaseError):
    """The database cannot be opened, is damaged, or belongs to a newer release."""

    exit_code = 6


class Damaged(BadDatabase):
    """The file of the database is not whole any more."""


class Held(DonorbaseError):
    """A part of the shelf is promised, lent, sold or in a build already: one thing is promised once."""

    exit_code = 7
