"""Types of arguments and options that know what can be typed there, for completion in the shell.

They take a word as it stands: whoever uses it says what is wrong with it. Their sources are named, not imported, so
that help costs only click, and a key press no more than the words it asks for.
"""

import os
from collections.abc import Iterable
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

OPEN = "open"
"""The type of a completion after which more is to be typed without a blank, such as ``NAME=``."""


def _names(ctx: click.Context, source: str) -> list[tuple[str, str]]:
    from donorbase.services.known import known
    from donorbase.services.usual_place import default_database

    database = ctx.find_root().params.get("database")
    return known(source, database or default_database(os.environ))


def _items(
    names: Iterable[tuple[str, str]], incomplete: str, kind: str = "plain", end: str = ""
) -> "list[CompletionItem[str]]":
    """The names that begin with what was typed, in whatever case."""
    from click.shell_completion import CompletionItem

    typed = incomplete.casefold()
    return [
        CompletionItem(name + end, type=kind, help=about or None)
        for name, about in names
        if name.casefold().startswith(typed)
    ]


class Known(click.ParamType[str]):
    """A word, with those of a source proposed; ``files`` proposes files besides."""

    name = "text"

    def __init__(self, source: str, *, files: bool = False) -> None:
        self.source, self.files = source, files

    def shell_complete(
        self, ctx: click.Context, param: click.Parameter, incomplete: str
    ) -> "list[CompletionItem[str]]":
        """The names known for it."""
        from click.shell_completion import CompletionItem

        found = _items(_names(ctx, self.source), incomplete)
        return [*found, CompletionItem(incomplete, type="file")] if self.files else found


class Numbered(click.types.IntParamType):
    """A number by which something is kept."""

    def __init__(self, source: str) -> None:
        self.source = source

    def shell_complete(
        self, ctx: click.Context, param: click.Parameter, incomplete: str
    ) -> "list[CompletionItem[str]]":
        """The numbers there are."""
        return _items(_names(ctx, self.source), incomplete)


class Named(Known):
    """NAME=VALUE: names of a source are proposed, and after the sign the words that an attribute can have."""

    def shell_complete(
        self, ctx: click.Context, param: click.Parameter, incomplete: str
    ) -> "list[CompletionItem[str]]":
        """The names, or what such a one can be."""
        from donorbase.services.known import values_of

        name, sign, _ = incomplete.partition("=")
        if not sign:
            return _items(_names(ctx, self.source), incomplete, OPEN, "=")
        return _items([(f"{name}={value}", "") for value in values_of(name)], incomplete)


class Condition(click.ParamType[str]):
    """A condition on an attribute; of several values parted by commas, the last is completed."""

    name = "text"

    def __init__(self, values: tuple[str, ...]) -> None:
        self.values = values

    def shell_complete(
        self, ctx: click.Context, param: click.Parameter, incomplete: str
    ) -> "list[CompletionItem[str]]":
        """The words that the attribute can have."""
        before, comma, _ = incomplete.rpartition(",")
        return _items([(f"{before}{comma}{value}", "") for value in self.values], incomplete)


BUILD = Known("builds")
BUILD_OR_FILE = Known("builds", files=True)
AXLE = Known("axles")
VARIANT = Known("variants")
FAMILY = Known("families")
CANDIDATE = Numbered("candidates")
TAG = Known("parts")
PLACE = Known("places")
PERSON = Known("people")
KIND = Known("kinds")
YARD = Known("yards")
SAW = Named("seen")
FACT = Named("facts")
FIELD = Named("fields")

FILE = click.Path(allow_dash=True)
"""A file; ``-`` is what is pasted, or printed."""
