"""The shortlist of a build, its candidates with what happened to them, and their pages to print."""

from datetime import date

from flask import Blueprint, current_app, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from donorbase.reports.pages import report_page, sheet_page
from donorbase.services import hunting
from donorbase.services.candidates import STATES, history
from donorbase.services.rejudging import candidate_verdict, judge_changed
from donorbase.services.report import report_of
from donorbase.services.sheet import sheet_of_candidate
from donorbase.services.shortlist import shortlist as shortlist_of
from donorbase.web.asked import build_names, desk, given, house, occasion

hunt_pages = Blueprint("hunt", __name__)


@hunt_pages.get("/shortlist")
def shortlist() -> str:
    """The candidates of a build that may do, best first; what is due is judged anew."""
    name = request.args.get("build", "") or next(iter(build_names()), "")
    found = shortlist_of(house(), desk(), name, date.today()) if name else None
    return render_template("shortlist.html", found=found, build=name, builds=build_names())


@hunt_pages.get("/candidate/<int:number>")
def candidate(number: int) -> str:
    """A candidate: its verdict, its texts, its history, and what can be done with it."""
    kept = history(house(), number)
    checked = candidate_verdict(house(), desk(), number)
    return render_template("candidate.html", kept=kept, checked=checked, states=STATES)


@hunt_pages.post("/candidate/<int:number>")
def change(number: int) -> Response:
    """Move it, note something, put a fact right, or take the newest change back; then its page again."""
    if given("undo"):
        hunting.undo(house(), number, occasion())
    elif given("state"):
        hunting.move(house(), [number], given("state"), occasion(given("note")))
    elif given("fact"):
        measured = bool(given("measured"))
        hunting.correct(house(), desk(), number, [given("fact")], occasion(given("note")), measured=measured)
    else:
        hunting.note(house(), number, occasion(given("note")))
    judge_changed(house(), desk(), number)
    return redirect(url_for("hunt.candidate", number=number))


@hunt_pages.get("/candidate/<int:number>/sheet")
def sheet(number: int) -> str:
    """Its sheet for the yard."""
    return sheet_page(sheet_of_candidate(house(), desk(), number), _caution(), style=url_for("style"), contacts=True)


@hunt_pages.get("/report")
def report() -> str:
    """The report of a build."""
    found = report_of(house(), desk(), request.args.get("build", ""), date.today())
    return report_page(found, _caution(), style=url_for("style"), contacts=True)


def _caution() -> str:
    return str(current_app.jinja_env.globals.get("caution", ""))
