"""``donorbase serve``."""

import click


@click.command(epilog="\b\nExample:\n    donorbase serve --port 8765")
@click.option("--port", type=click.IntRange(1, 65535), default=8765, show_default=True, help="The port to listen on.")
@click.option(
    "--listen", default="127.0.0.1", show_default=True, metavar="ADDRESS", help="Elsewhere the address holds a key."
)
@click.pass_obj
def serve(database: str | None, port: int, listen: str) -> None:
    """Serve the pages to paste into, for the browser of this computer: read, judge, correct, keep; yard and shelf.

    Nobody else is let in. With another --listen, others in the network are, if they know the address with the random
    key that is printed; it is not encrypted. Ctrl-C ends it.
    """
    import os
    import secrets

    from donorbase.cli.context import open_house, who_does_it
    from donorbase.cli.output import CAUTION, tell
    from donorbase.errors import BadInput
    from donorbase.web.server import run, url_of

    place = open_house(database).place
    key = "" if listen in ("127.0.0.1", "localhost", "::1") else secrets.token_urlsafe(18)

    def ready() -> None:

        tell(f"Open {url_of(listen, port, key)} in your browser; Ctrl-C ends it.", err=True)

    try:
        run(place, CAUTION, listen, port, key=key, who=who_does_it(), ready=ready)
    except OSError as wrong:
        what = f"{listen}:{port} cannot be listened on: {os.strerror(wrong.errno) if wrong.errno else wrong}"
        raise BadInput(what, "Name another port with --port.") from None
