"""A listing pasted: read with its words marked, judged, put right, kept."""

from datetime import date

from flask import Blueprint, redirect, render_template, url_for
from werkzeug.wrappers import Response

from donorbase.attributes import of_scope
from donorbase.services.builds import find_build
from donorbase.services.corrected import corrected, plain_text
from donorbase.services.desk import Checked
from donorbase.services.intake import checked_text
from donorbase.services.keeping import Keeper
from donorbase.services.learning import corrections, record_corrections
from donorbase.services.message import seller_message
from donorbase.services.rejudging import judge_due
from donorbase.services.source_fields import seen_of
from donorbase.web.asked import build_names, desk, given, house, miles, occasion
from donorbase.web.marked import pieces_of, told_of

paste_pages = Blueprint("paste", __name__)


@paste_pages.get("/")
def paste() -> str:
    """The box to paste into."""
    return render_template("paste.html", builds=build_names())


@paste_pages.post("/read")
def read() -> str:
    """The listing as it is read, with its corrections, and judged where a build is named."""
    return _shown()


@paste_pages.post("/correct")
def correct() -> str:
    """Keep a fact that the reader got wrong or did not see, and show the listing by it."""
    text = _text()
    fact, item = f"{given('name')}={given('value')}", given("item")
    known = "measured" if given("measured") else "stated"
    record_corrections(house(), desk().read(text), int(item) if item.isdecimal() else 1, [fact], known)
    return _shown()


@paste_pages.post("/keep")
def keep() -> Response:
    """Keep the listing as a candidate of the build, and go to it."""
    name = house().build(given("build")).name
    fields = {"text": _text(), "distance_mi": miles(), "url": given("url"), "zip": given("zip")}
    seen = seen_of({key: value for key, value in fields.items() if value not in (None, "")}, date.today())
    (outcome,) = Keeper(house(), desk(), (name,), occasion().who).keep([seen])
    judge_due(house(), desk(), (name,), only=list(outcome.candidates.values()))
    return redirect(url_for("hunt.candidate", number=outcome.candidates[name]))


def _text() -> str:
    return plain_text(checked_text(given("text"), "the paste"))


def _shown() -> str:
    text, name, away = _text(), given("build"), miles()
    own = [row for row in corrections(house()) if plain_text(row["text"]) == text]
    reading = corrected(desk().read(text), own)
    told = told_of(reading)
    checked = desk().judged(reading, find_build(house(), name), away) if name else None
    return render_template(
        "listing.html",
        text=text,
        told=told,
        pieces=pieces_of(text, told),
        items=reading.items,
        hazards=[hazard.attribute for hazard in reading.hazards],
        axles=[axle for item in reading.items for axle in desk().axles(item)] if not checked else [],
        checked=checked,
        message=_message(checked),
        builds=build_names(),
        build=name,
        distance_mi=given("distance_mi"),
        attributes=[a for scope in ("item", "axle") for a in of_scope(scope)],
    )


def _message(checked: Checked | None) -> str:
    return seller_message(checked.verdict) if checked else ""
