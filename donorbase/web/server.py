"""The server of the pages: one request after the other, on one address."""

from collections.abc import Callable
from typing import Any

from donorbase.errors import BadInput
from donorbase.web.guard import behind_key


def url_of(listen: str, port: int, key: str = "") -> str:
    """The address to open."""
    host = f"[{listen}]" if ":" in listen else listen
    return f"http://{host}:{port}/{f'{key}/' if key else ''}"


def run(
    place: str, caution: str, listen: str, port: int, *, key: str = "", who: str = "", ready: Callable[[], None]
) -> None:
    """Serve until Ctrl-C; ``ready`` is called once the port is open. OSError where it cannot be listened on."""
    try:
        from waitress.server import create_server

        from donorbase.web.app import make_app
    except ImportError:
        raise BadInput("the pages need Flask and waitress", "pip install 'donorbase[serve]'") from None
    app: Any = make_app(place, caution, who=who, keyed=bool(key))
    # One thread: the house is one, and a person sends one page at a time.
    server = create_server(behind_key(app, key) if key else app, host=listen, port=port, threads=1, ident=None)
    ready()
    try:
        server.run()
    finally:
        server.close()
