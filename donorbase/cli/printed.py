"""Lines for a sheet: as wide as the terminal, or as a printed page without colour."""

import textwrap
from collections.abc import Callable

PRINTED_COLUMNS = 78


class Page:
    """Paragraphs, as ``told`` gives them, on a terminal or ``printed`` on paper; later lines stand ``deeper``."""

    def __init__(self, printed: bool, deeper: int = 4, told: Callable[[str], str] = str) -> None:
        from donorbase.cli.output import width

        self.columns = PRINTED_COLUMNS if printed else width()
        self.printed, self.deeper, self.told = printed, deeper, told

    def heading(self, text: str) -> None:
        """A heading, with a line of room above it."""
        from donorbase.cli.output import heading, tell

        tell()
        tell(text.upper()) if self.printed else heading(text)

    def line(self, text: str, indent: int = 0) -> None:
        """A paragraph."""
        from donorbase.cli.output import tell

        begin = " " * indent
        later = begin + " " * self.deeper
        tell(textwrap.fill(self.told(text), self.columns, initial_indent=begin, subsequent_indent=later))
