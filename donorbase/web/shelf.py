"""The shelf: its parts, and each part with all that happened to it."""

from flask import Blueprint, render_template

from donorbase.services.shelf import part_history, parts
from donorbase.web.asked import house

shelf_pages = Blueprint("shelf", __name__)


@shelf_pages.get("/shelf")
def shelf() -> str:
    """All parts, by number."""
    return render_template("shelf.html", parts=parts(house()))


@shelf_pages.get("/shelf/<tag>")
def part(tag: str) -> str:
    """One part."""
    return render_template("part.html", kept=part_history(house(), tag))
