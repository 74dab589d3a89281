"""Who is let in, by the headers that a browser sets and a page cannot: ``Origin`` of the Fetch standard, and
``Sec-Fetch-Site`` of Fetch Metadata (W3C).
"""

from pathlib import Path

import pytest
from flask.testing import FlaskClient

from donorbase.web.app import make_app
from donorbase.web.guard import behind_key, refusal


@pytest.mark.parametrize(
    ("headers", "method", "host", "refused"),
    [
        ({}, "GET", "127.0.0.1:8765", False),
        ({"Sec-Fetch-Site": "none"}, "GET", "localhost:8765", False),
        ({"Sec-Fetch-Site": "same-origin"}, "GET", "[::1]:8765", False),
        ({"Sec-Fetch-Site": "cross-site"}, "GET", "127.0.0.1:8765", True),
        # Another port of this computer is another origin of the same site.
        ({"Sec-Fetch-Site": "same-site"}, "GET", "127.0.0.1:8765", True),
        # A foreign name that was pointed at this computer.
        ({}, "GET", "pages.example:8765", True),
        ({}, "GET", "127.0.0.1.pages.example", True),
        ({"Origin": "http://127.0.0.1:8765"}, "POST", "127.0.0.1:8765", False),
        ({"Sec-Fetch-Site": "same-origin"}, "POST", "127.0.0.1:8765", False),
        ({"Origin": "http://pages.example"}, "POST", "127.0.0.1:8765", True),
        ({"Origin": "http://127.0.0.1:9999"}, "POST", "127.0.0.1:8765", True),
        ({"Origin": "null"}, "POST", "127.0.0.1:8765", True),
        ({}, "POST", "127.0.0.1:8765", True),
    ],
)
def test_who_is_let_in(headers: dict[str, str], method: str, host: str, refused: bool) -> None:
    assert bool(refusal(headers, method, host, keyed=False)) is refused


def test_behind_a_key_any_name_will_do_but_no_other_site() -> None:
    assert not refusal({}, "GET", "garage-pc:8765", keyed=True)
    assert refusal({"Origin": "http://pages.example"}, "POST", "garage-pc:8765", keyed=True)


def test_without_the_key_nothing_is_found(database: Path) -> None:
    app = make_app(str(database), "a caution", keyed=True)
    app.wsgi_app = behind_key(app.wsgi_app, "s3cret")  # type: ignore[method-assign]
    client = app.test_client()
    for path in ("/", "/shortlist", "/s3cre/", "/s3crett/", "/wrong/yard"):
        assert client.get(path).status_code == 404
    page = client.get("/s3cret/")
    assert page.status_code == 200
    assert b'href="/s3cret/yard"' in page.data
    assert client.get("/s3cret/yard").status_code == 200


def test_what_every_answer_carries(client: FlaskClient) -> None:
    for path in ("/", "/nothing-here", "/style.css"):
        answer = client.get(path)
        assert "default-src 'none'" in answer.headers["Content-Security-Policy"]
        assert "script-src" not in answer.headers["Content-Security-Policy"]
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert "Set-Cookie" not in answer.headers


def test_a_form_from_elsewhere_changes_nothing(client: FlaskClient) -> None:
    before = client.get("/candidate/1").data
    sent = {"state": "gone"}
    assert client.post("/candidate/1", data=sent, headers={"Origin": "http://pages.example"}).status_code == 403
    assert client.get("/candidate/1").data == before
    assert client.post("/candidate/1", data=sent).status_code == 302
    assert client.get("/candidate/1").data != before


def test_a_form_of_any_size_is_not_swallowed(client: FlaskClient) -> None:
    assert client.post("/read", data={"text": "x" * 3_000_000}).status_code == 413
