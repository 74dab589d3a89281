"""Every page escapes every field: what sellers and files say is shown as words, and neither acts nor hides.

The page is taken apart as a browser does it, and no element or attribute may be there that the templates do not have:
OWASP, Cross Site Scripting Prevention, for text in elements and in quoted attributes.
"""

import json
import re
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from click.testing import CliRunner
from flask.testing import FlaskClient

from donorbase.cli.main import cli
from donorbase.web.app import make_app

DEMO = Path(__file__).parents[2] / "data" / "demo"
MARKUP = (
    "<script>alert(1)</script><img src=x onerror=alert(2)>\"'><svg/onload=alert(3)><b onmouseover='alert(4)' "
    'style="x">{{ 7*7 }}{% raw %}&lt;i&gt;</textarea></option></title></td>'
)
SIGNS = "\u202e\u2066\u200b\u200f\u00ad\ufeff\U000e0041\x1b[2J\x9b"
HOSTILE = MARKUP + SIGNS
AXLE = "front axle off a 2008 one ton, coil, ball joint, SRW, 8x170, 3.73, driver side, $900 obo"
BUILD = f"b {MARKUP}"


class Page(HTMLParser):
    """The elements and attributes of a page, and its words but those that a form carries on."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: set[str] = set()
        self.attributes: set[str] = set()
        self.links: list[str] = []
        self.words = ""
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes |= {name for name, _ in attrs}
        self.links += [value or "" for name, value in attrs if name in ("href", "src", "action", "formaction")]

    def handle_data(self, data: str) -> None:
        self.words += data


def harmless(text: str) -> Page:
    """The page, in which nothing acts and nothing hides."""
    page = Page(text)
    assert not page.tags & {"script", "img", "iframe", "object", "embed", "i", "base"}, page.tags
    assert not [name for name in page.attributes if name.startswith("on") or name in ("srcdoc", "formaction")]
    assert all(re.match(r"(/|#|\?|$)", link) for link in page.links), page.links
    assert not set(SIGNS.replace("[2J", "")) & set(page.words)
    return page


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> FlaskClient:
    folder = tmp_path_factory.mktemp("hostile")
    text = (DEMO / "rock-truck.toml").read_text("utf-8")
    build, ads = folder / "b.toml", folder / "ads.jsonl"
    name = f"name = {json.dumps(HOSTILE, ensure_ascii=False)}"
    build.write_text(re.sub(r"^name = .*$", lambda _: name, text, flags=re.M), "utf-8")
    row = {"text": f"{AXLE} {HOSTILE}", "title": HOSTILE, "url": f"javascript:alert(1)//{HOSTILE}", "source": HOSTILE}
    ads.write_text(json.dumps(row) + "\n", "utf-8")
    for args in (
        ["build", "add", str(build), "--name", BUILD], ["candidate", "import", str(ads), "--build", BUILD],
        ["candidate", "asked", "1", "--note", HOSTILE, "--who", HOSTILE],
        ["part", "add", "knuckle", "--side", "left", "--place", HOSTILE, "--note", HOSTILE, "--condition", HOSTILE],
        ["part", "photo", "AAC4", HOSTILE], ["part", "reserve", "AAC4", "--for", HOSTILE],
    ):  # fmt: skip
        done = CliRunner().invoke(cli, ["--db", str(folder / "own.sqlite3"), *args])
        assert done.exit_code == 0, (args, done.output)
    found = make_app(str(folder / "own.sqlite3"), "a caution", who=HOSTILE).test_client()
    found.environ_base["HTTP_ORIGIN"] = "http://localhost"
    return found


PAGES = (
    "/", "/yard", "/shortlist", f"/shortlist?build={quote(BUILD)}", f"/report?build={quote(BUILD)}", "/candidate/1",
    "/candidate/1/sheet", "/shelf", "/shelf/AAC4",
)  # fmt: skip


@pytest.mark.parametrize("path", PAGES)
def test_every_page_shows_words_as_words(client: FlaskClient, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code == 200, (path, answer.data[-500:])
    page = harmless(answer.data.decode())
    if path not in ("/yard", "/"):
        assert "<script>alert(1)</script>" in page.words


FORMS: tuple[tuple[str, dict[str, Any]], ...] = (
    ("/read", {"text": f"{AXLE} {HOSTILE}", "build": BUILD}),
    ("/read", {"text": f"{AXLE} {HOSTILE}", "build": HOSTILE}),
    ("/read", {"text": AXLE, "build": BUILD, "distance_mi": HOSTILE}),
    ("/correct", {"text": f"{AXLE} {HOSTILE}", "build": BUILD, "item": "1", "name": "lugs", "value": HOSTILE}),
    ("/correct", {"text": AXLE, "build": BUILD, "item": HOSTILE, "name": HOSTILE, "value": "8"}),
    ("/yard", {"saw:lugs": HOSTILE, f"saw:{HOSTILE}": "8"}),
    ("/yard", {"name": "lugs", "value": HOSTILE, "asked": HOSTILE, "skipped": HOSTILE}),
    ("/candidate/1", {"state": HOSTILE, "note": HOSTILE}),
    ("/candidate/1", {"state": "visiting", "note": HOSTILE}),
)


@pytest.mark.parametrize(("path", "form"), FORMS)
def test_what_a_form_sends_comes_back_as_words(client: FlaskClient, path: str, form: dict[str, Any]) -> None:
    answer = client.post(path, data=form)
    assert answer.status_code < 500
    if answer.status_code not in (302, 303):
        harmless(answer.data.decode())


@pytest.mark.parametrize("path", ["/shortlist?build=", "/report?build=", "/shelf/", "/candidate/", "/"])
def test_what_is_not_there_is_told_as_words(client: FlaskClient, path: str) -> None:
    answer = client.get(path + quote(HOSTILE.replace("/", "")))
    assert 400 <= answer.status_code < 500
    harmless(answer.data.decode())


def test_a_form_carries_a_text_on_to_the_letter(client: FlaskClient) -> None:
    """What is shown is made harmless; what is sent on and kept stays as it was pasted."""
    text = f"{AXLE} {SIGNS}"
    page = client.post("/read", data={"text": text, "build": BUILD}).data.decode()
    carried = re.search(r'name="text" value="([^"]*)"', page)
    assert carried
    assert carried[1] == text.replace("\r\n", "\n")
