"""The pages put together: their guard, their templates, their words for what goes wrong."""

from http import HTTPStatus
from typing import Any

from flask import Flask, Response, abort, render_template, request
from jinja2 import ChoiceLoader, PackageLoader, StrictUndefined
from markupsafe import escape
from werkzeug.exceptions import HTTPException

from donorbase.errors import DonorbaseError, NotFound
from donorbase.reference.wording import value_text
from donorbase.reports.pages import on_page
from donorbase.services.intake import MAX_CHARACTERS
from donorbase.web.guard import HEADERS, refusal
from donorbase.web.held import Held
from donorbase.web.hunt import hunt_pages
from donorbase.web.paste import paste_pages
from donorbase.web.shelf import shelf_pages
from donorbase.web.yard import yard_pages

_MOST_BYTES = 8 * MAX_CHARACTERS
"""A form with the longest listing, each character at its longest."""


def make_app(place: str, caution: str, *, who: str = "", keyed: bool = False) -> Flask:
    """The pages over the database at ``place``. ``who`` stands in the events, ``caution`` at every page's foot.

    Not ``keyed``, they answer only to this computer's own names.
    """
    app = Flask(__name__, static_folder=None)
    app.config.update(MAX_CONTENT_LENGTH=_MOST_BYTES, HELD=Held(place), WHO=who)
    app.jinja_loader = ChoiceLoader([PackageLoader("donorbase.web"), PackageLoader("donorbase.reports")])
    app.jinja_env.undefined = StrictUndefined
    app.jinja_env.finalize = on_page
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.jinja_env.filters["to_the_letter"] = escape
    app.jinja_env.filters["usd"] = lambda usd: "not known" if usd is None else f"{usd:,.0f}"
    app.jinja_env.filters["value"] = lambda value, name: value_text(name, value)
    app.jinja_env.globals["caution"] = caution
    for pages in (paste_pages, yard_pages, hunt_pages, shelf_pages):
        app.register_blueprint(pages)
    app.before_request(lambda: _guard(keyed=keyed))
    app.after_request(_with_headers)
    app.add_url_rule("/style.css", "style", _style)
    app.add_url_rule("/favicon.ico", "icon", lambda: ("", HTTPStatus.NO_CONTENT))
    app.register_error_handler(DonorbaseError, _told)
    app.register_error_handler(HTTPException, _told)
    return app


def _guard(*, keyed: bool) -> None:
    why = refusal(request.headers, request.method, request.host, keyed=keyed)
    if why:
        abort(HTTPStatus.FORBIDDEN, f"Refused: {why}.")


def _with_headers(response: Response) -> Response:
    for name, value in HEADERS.items():
        response.headers[name] = value
    return response


def _style() -> Response:
    css = render_template("paper.css") + render_template("pages.css")
    return Response(css, mimetype="text/css")


def _told(error: Any) -> tuple[str, int]:
    if isinstance(error, HTTPException):
        return render_template("error.html", what=error.description, next_step=""), error.code or 500
    code = HTTPStatus.NOT_FOUND if isinstance(error, NotFound) else HTTPStatus.BAD_REQUEST
    return render_template("error.html", what=error.what, next_step=error.next_step), code
