"""The options by which a command is told its build, and the axle it is about."""

from collections.abc import Callable
from typing import Any

import click

from donorbase.cli.proposed import BUILD_OR_FILE, FILE, SAW, VARIANT

_Command = Callable[..., Any]


def build_option(about: str = "A kept build, or a build file.", name: str = "build_name", **more: Any) -> _Command:
    """``--build``: one that is kept, or a file of one; ``more`` goes to click."""
    return click.option("--build", "-b", name, type=BUILD_OR_FILE, metavar="NAME|FILE", help=about, **more)


def axle_options(command: _Command) -> _Command:
    """The options by which one axle is told."""
    return _with(
        command,
        click.option("--variant", type=VARIANT, default="", metavar="KEY", help="The axle, where it is known which."),
        _LISTING,
        click.option(
            "--saw", type=SAW, multiple=True, metavar="NAME=VALUE", help="Measured on it; overrules the others."
        ),
        click.option("--end", type=click.Choice(["front", "rear"]), help="Which, where the advert has both."),
    )


def axles_options(command: _Command) -> _Command:
    """The options by which the axles of a build are told, one for each end."""
    twice = "The axle; give it twice for front and rear."
    return _with(
        command,
        click.option("--variant", "variants", type=VARIANT, multiple=True, metavar="KEY", help=twice),
        _LISTING,
        click.option("--saw", type=SAW, multiple=True, metavar="NAME=VALUE", help="Measured or seen on the axle."),
    )


def axle_given(variant: str, listing: str | None, saw: tuple[str, ...], end: str | None) -> dict[str, Any]:
    """The options of one axle as the services take them."""
    return {"variant": variant, **_read(variant, listing, saw), "end": end or ""}


def axles_given(variants: tuple[str, ...], listing: str | None, saw: tuple[str, ...]) -> dict[str, Any]:
    """The options of a build's axles as the services take them."""
    return {"variants": variants, **_read(variants, listing, saw)}


_LISTING = click.option("--listing", type=FILE, metavar="FILE", help="Its advert; `-` to paste it.")


def _with(command: _Command, *options: _Command) -> _Command:
    for option in reversed(options):
        command = option(command)
    return command


def _read(named: object, listing: str | None, saw: tuple[str, ...]) -> dict[str, Any]:
    from donorbase.cli.identify import pair_of
    from donorbase.cli.paste import pasted

    if named and listing:
        raise click.UsageError("--variant and --listing both name the axle: choose one.")
    text = pasted(listing, None) if listing else ""
    return {"text": text, "saw": dict(pair_of(one) for one in saw)}
