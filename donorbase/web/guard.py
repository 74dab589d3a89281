"""Who may ask the pages: this computer's browser, from these pages, and nobody else's."""

from collections.abc import Callable, Iterable
from typing import Any
from urllib.parse import urlsplit

HEADERS = {
    "Content-Security-Policy": "default-src 'none'; style-src 'self'; img-src 'self' data:; form-action 'self'; "
    "base-uri 'none'; frame-ancestors 'none'",
    "Cache-Control": "no-store",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    # The address may hold the key; no other site is told of it.
    "Referrer-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
}
"""What every answer carries: nothing is loaded or run from elsewhere, nothing is framed, nothing is kept."""
LOOPBACK = frozenset({"localhost", "127.0.0.1", "::1"})
_OWN = frozenset({"same-origin", "none"})

Wsgi = Callable[[dict[str, Any], Callable[..., Any]], Iterable[bytes]]


def refusal(headers: Any, method: str, host: str, *, keyed: bool) -> str:
    """Why a request is refused; empty where it is not.

    A name other than this computer's in ``Host`` is a foreign page that points its own name here; behind a key any
    name will do, since the key is not known to it. What a form sends must come from these pages.
    """
    if not keyed and urlsplit(f"//{host}").hostname not in LOOPBACK:
        return "it was asked for under the name of another computer"
    site, origin = headers.get("Sec-Fetch-Site"), headers.get("Origin")
    if site is not None and site not in _OWN:
        return "another site asked for it"
    if method == "GET":
        return ""
    if origin is not None and urlsplit(origin).netloc != host:
        return "another site sent it"
    return "" if origin is not None or site is not None else "nothing says that it was sent from these pages"


def behind_key(app: Wsgi, key: str) -> Wsgi:
    """The pages under ``/KEY/``; everything else is not found."""
    from hmac import compare_digest

    def keyed(environ: dict[str, Any], start: Callable[..., Any]) -> Iterable[bytes]:
        first, _, rest = str(environ.get("PATH_INFO", "")).lstrip("/").partition("/")
        if not compare_digest(first.encode(), key.encode()):
            start("404 Not Found", [("Content-Type", "text/plain; charset=utf-8"), *HEADERS.items()])
            return [b"Nothing is here. The address that donorbase printed holds a key.\n"]
        environ["SCRIPT_NAME"] = f"{environ.get('SCRIPT_NAME', '')}/{key}"
        environ["PATH_INFO"] = f"/{rest}"
        return app(environ, start)

    return keyed
