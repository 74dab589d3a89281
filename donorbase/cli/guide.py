"""``donorbase guide``: the job from the beginning, on short pages. It needs no database."""

from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import json_form
from donorbase.cli.proposed import Known

if TYPE_CHECKING:
    from donorbase.reference.guide import Page
    from donorbase.services.guide import Term


@click.command(epilog="\b\nExamples:\n    donorbase guide\n    donorbase guide axle\n    donorbase guide bolt circle")
@click.argument("topic", nargs=-1, type=Known("guide"), metavar="[TOPIC]")
@json_form
def guide(topic: tuple[str, ...]) -> None:
    """Walk through the whole job for the first time: a short page for each step, each term explained once.

    Without TOPIC the pages are listed. A TOPIC is a page (axle, build, paste, judge ...) or a term (bolt circle,
    outer splines ...).
    """
    from donorbase.reference.guide import Page
    from donorbase.services.guide import topic as topic_of

    if not topic:
        _show_contents()
        return
    found = topic_of(" ".join(topic))
    if isinstance(found, Page):
        _show_page(found)
    else:
        _show_term(found)


def _show_contents() -> None:
    from donorbase.cli.output import done, heading, say
    from donorbase.reference.guide import pages, terms
    from donorbase.services.guide import page_json

    done([page_json(page) for page in pages()])
    heading("From the first look to the shelf")
    for number, page in enumerate(pages(), 1):
        say(f"{number:2}. donorbase guide {page.key:8} {page.title}")
    say()
    say(f"Terms, each with `donorbase guide TERM`: {'; '.join(one.title for one in terms())}.")
    say("To see it all at work on invented adverts: `donorbase demo`.")


def _show_page(page: "Page") -> None:
    from donorbase.cli.output import done, heading, say, tell
    from donorbase.services.guide import following, page_json

    done(page_json(page))
    heading(page.title)
    for paragraph in page.says:
        say()
        say(paragraph, hanging=0)
    if page.explains:
        say()
    for one in page.explains:
        say(f"{one.title}: {one.about}")
    say()
    heading("Type")
    for command in page.commands:
        tell(f"  {command}")
    after = following(page)
    if after:
        say()
        say(f"Next: `donorbase guide {after.key}` ({after.title}).")


def _show_term(term: "Term") -> None:
    from donorbase.cli.output import done, heading, say

    one = term.attribute
    done(term.as_json())
    heading(f"{one.title} ({one.name})")
    say(one.about, hanging=0)
    for title, words in (
        ("Find it out", one.how),
        ("Ask", one.ask),
        ("It can be", ", ".join(one.values)),
        ("Sellers say", ", ".join(term.words)),
    ):
        if words:
            say(f"{title}: {words}")
