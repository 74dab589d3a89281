"""Pages from templates: what is known escaped, drawings put in, nothing loaded from elsewhere."""

from collections.abc import Callable
from functools import cache
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from donorbase.reference.inspection import WEIGHTS
from donorbase.reports.charts import Plotted, chance_against_cost, cost_bars
from donorbase.reports.drawings import Figures, drawing
from donorbase.services.contacts import without_contacts
from donorbase.services.report import Report
from donorbase.services.sheet import Sheet
from donorbase.services.shown import shown


def sheet_page(sheet: Sheet, caution: str, style: str = "", *, contacts: bool = False) -> str:
    """The yard sheet as one HTML page; ``caution`` stands at its foot.

    ``style`` is the address of the style sheet where the page is served; else the page carries it. Sellers' numbers
    and addresses are blanked without ``contacts``.
    """
    page = _environment(contacts=contacts).get_template("sheet.html")
    return page.render(sheet=sheet, weights=WEIGHTS, caution=caution, style=style)


def report_page(report: Report, caution: str, style: str = "", *, contacts: bool = False) -> str:
    """The report of a build as one HTML page; the rest as in ``sheet_page``."""
    kept = [one.candidate for one in report.shortlist.listed]
    plotted = [Plotted(str(one.id), one.chance or 0.0, *one.landed_usd) for one in kept if one.landed_usd]
    charts = {}
    if plotted:
        # Words in a drawing are escaped as it is drawn.
        charts["bars"] = Markup(cost_bars(plotted, report.limit_usd))
        charts["chances"] = Markup(chance_against_cost(plotted, report.limit_usd))
    page = _environment(contacts=contacts).get_template("report.html")
    return page.render(report=report, charts=charts, caution=caution, style=style)


@cache
def _environment(*, contacts: bool) -> Environment:
    found = Environment(
        loader=PackageLoader("donorbase.reports"), autoescape=True, undefined=StrictUndefined, trim_blocks=True,
        lstrip_blocks=True, finalize=on_page if contacts else lambda value: on_page(value, without_contacts),
    )  # fmt: skip
    found.globals["drawing"] = _drawn
    found.filters["usd"] = _usd
    return found


def on_page(value: Any, told: Callable[[str], str] = str) -> Any:
    """What a template puts on a page: words of others cannot turn a line round or hide in it; drawings stay."""
    return shown(told(value)) if isinstance(value, str) and not isinstance(value, Markup) else value


def _drawn(name: str, figures: Figures) -> Markup:
    # The drawing escapes its own words, so that it may stand in the page as it is.
    return Markup(drawing(name, figures))


def _usd(amount: float | None) -> str:
    return "not known" if amount is None else f"{amount:,.0f}"
