"""What commands share: the user's house, and a desk with what it holds."""

import os
from datetime import date
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from donorbase.services.desk import Desk
    from donorbase.services.house import House


def open_house(database: str | None) -> "House":
    """The house at the database named by ``--db``, or at the usual place; closed when the command ends."""
    from donorbase.cli.waiting import working
    from donorbase.services.house import House
    from donorbase.services.usual_place import default_database

    house = House(database or default_database(os.environ), who_does_it())
    house.watch = working
    click.get_current_context().call_on_close(house.close)
    return house


def open_desk(house: "House") -> "Desk":
    """A desk with the catalogue and words of a house, today's year on its calendar."""
    from donorbase.services.desk import Desk

    return Desk.of_house(house, this_year())


def who_does_it() -> str:
    """Who stands in the events: ``DONORBASE_WHO``, else the name of the login; empty where there is neither."""
    from getpass import getuser

    try:
        return os.environ.get("DONORBASE_WHO") or getuser()
    except (OSError, KeyError, ImportError):
        # A computer without a name for this user.
        return ""


def this_year() -> int:
    """The year of the computer's calendar."""
    return date.today().year
