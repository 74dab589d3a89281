"""What the browser asked, in the words of the services."""

from datetime import date

from flask import current_app, request

from donorbase.errors import BadInput
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.web.held import Held


def house() -> House:
    """The user's house."""
    return _held().house


def desk() -> Desk:
    """The desk with what the house holds now."""
    return _held().desk()


def _held() -> Held:
    held: Held = current_app.config["HELD"]
    return held


def occasion(words: str = "") -> Occasion:
    """Today, by whoever runs the pages."""
    return Occasion(date.today(), current_app.config["WHO"], words)


def given(name: str) -> str:
    """A field of the form, without blank ends; empty where it was not given."""
    return request.form.get(name, "").strip()


def miles() -> float | None:
    """The distance of the form, one way; BadInput where it is none."""
    text = given("distance_mi")
    if not text:
        return None
    try:
        found = float(text)
    except ValueError:
        found = -1.0
    if not 0 <= found <= 5000:
        raise BadInput(f"{text!r} is no distance in miles", "Give a number from 0 to 5000, or leave it empty.")
    return found


def build_names() -> tuple[str, ...]:
    """The builds that are kept, by name."""
    return tuple(kept.name for kept in house().builds())
