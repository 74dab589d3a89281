"""Pages from templates: what is known escaped, drawings put in, nothing loaded from elsewhere."""

from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from donorbase.reference.inspection import WEIGHTS
from donorbase.reports.drawings import Figures, drawing
from donorbase.services.sheet import Sheet


def sheet_page(sheet: Sheet, caution: str) -> str:
    """The yard sheet as one HTML page; ``caution`` stands at its foot."""
    return _environment().get_template("sheet.html").render(sheet=sheet, weights=WEIGHTS, caution=caution)


@cache
def _environment() -> Environment:
    found = Environment(
        loader=PackageLoader("donorbase.reports"), autoescape=True, undefined=StrictUndefined, trim_blocks=True,
        lstrip_blocks=True,
    )  # fmt: skip
    found.globals["drawing"] = _drawn
    return found


def _drawn(name: str, figures: Figures) -> Markup:
    # The drawing escapes its own words, so that it may stand in the page as it is.
    return Markup(drawing(name, figures))
