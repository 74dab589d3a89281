"""The options that every noted change has: the day it happened, and who did it."""

from collections.abc import Callable
from datetime import datetime
from typing import TYPE_CHECKING

import click

from donorbase.cli.candidate_add import DAY, day_or_today

if TYPE_CHECKING:
    from donorbase.services.hunting import Occasion


NEGATIVE = {"ignore_unknown_options": True}
"""So that -5 is an amount, and is told to be none, and not an option."""


def says_when(command: Callable[..., None]) -> Callable[..., None]:
    """The options that say when and by whom."""
    command = click.option("--who", default="", help="Who did it; your login's name where left out.")(command)
    return click.option("--on", type=DAY, metavar="DATE", help="The day it happened; today where left out.")(command)


def occasion(on: datetime | None, who: str, words: str = "") -> "Occasion":
    """The day, who did it, and his words, of the options that ``says_when`` adds."""
    from donorbase.cli.context import who_does_it
    from donorbase.services.hunting import Occasion

    return Occasion(day_or_today(on), who or who_does_it(), words)
