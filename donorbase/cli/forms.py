"""The form in which a command answers: words, JSON or CSV. ``output`` prints in the form that was asked for."""

from collections.abc import Callable
from typing import Any

import click

WORDS, JSON, CSV = "words", "json", "csv"
_ASKED = "donorbase.form"


def asked() -> str:
    """The form that was asked for on the command line."""
    ctx = click.get_current_context(silent=True)
    return str(ctx.meta.get(_ASKED, WORDS)) if ctx else WORDS


def _ask(form: str) -> Callable[[click.Context, click.Parameter, bool], None]:
    def keep(ctx: click.Context, param: click.Parameter, given: bool) -> None:
        if given:
            if asked() not in (WORDS, form):
                raise click.UsageError("--json and --csv are two forms of one answer: choose one.")
            ctx.meta[_ASKED] = form

    return keep


def json_form(command: Callable[..., Any]) -> Callable[..., Any]:
    """The option ``--json`` of a command whose words are all printed by ``output``."""
    option = click.option("--json", is_flag=True, expose_value=False, callback=_ask(JSON), help="Print JSON.")
    return option(command)


def csv_form(command: Callable[..., Any]) -> Callable[..., Any]:
    """The option ``--csv`` of a command that shows tables: they alone are printed then."""
    option = click.option("--csv", is_flag=True, expose_value=False, callback=_ask(CSV), help="Print tables as CSV.")
    return option(command)
