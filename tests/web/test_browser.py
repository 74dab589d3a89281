"""The pages in a real browser: the whole way by keyboard, and no serious finding of axe-core, the checker of the web
content accessibility guidelines (WCAG) from the npm registry.

``DONORBASE_CHROMIUM`` names the browser where it is not Debian's, ``DONORBASE_AXE`` the file ``axe.min.js``; with
``DONORBASE_SCREENSHOTS`` naming a folder, pictures for the README are laid down there.
"""

import os
import shutil
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

playwright = pytest.importorskip("playwright.sync_api")

CHROMIUM = os.environ.get("DONORBASE_CHROMIUM") or shutil.which("chromium") or ""
AXE = os.environ.get("DONORBASE_AXE", "")
ADVERT = (
    "Front axle out of an 06 one ton, coil, ball joints, 4.10, 8 lug, manual hubs. Calipers and rotors on it, "
    "straight. Marrit, 900 obo 555-0142"
)
QUIET = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not CHROMIUM, reason="no browser: apt-get install chromium, or name one in DONORBASE_CHROMIUM"),
]


@pytest.fixture
def address(database: Path) -> Iterator[str]:
    """The pages as the command serves them."""
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        port = taken.getsockname()[1]
    command = [sys.executable, "-m", "donorbase", "--db", str(database), "serve", "--port", str(port)]
    server = subprocess.Popen(command, stderr=subprocess.PIPE, text=True)
    assert server.stderr
    told = server.stderr.readline()
    assert f"http://127.0.0.1:{port}/" in told, told + server.stderr.read()
    yield f"http://127.0.0.1:{port}/"
    server.terminate()
    server.communicate()


@pytest.fixture
def page(address: str) -> Iterator["playwright.Page"]:
    with playwright.sync_playwright() as started:
        browser = started.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        found = browser.new_page(viewport={"width": 900, "height": 1000})
        wrong: list[str] = []
        found.on("console", lambda said: wrong.append(said.text))
        found.on("pageerror", lambda said: wrong.append(str(said)))
        yield found
        assert not wrong
        assert not browser.contexts[0].cookies()
        browser.close()


def picture(page: "playwright.Page", name: str) -> None:
    if folder := os.environ.get("DONORBASE_SCREENSHOTS"):
        page.screenshot(path=Path(folder) / f"{name}.png", full_page=name == "yard")


def test_the_whole_way_by_keyboard(page: "playwright.Page", address: str) -> None:
    page.goto(address)
    page.get_by_label("The words of the advert").focus()
    page.keyboard.insert_text(ADVERT)
    page.keyboard.press("Tab")  # the build, the first of them chosen
    page.keyboard.press("Tab")
    page.keyboard.type("27")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_url("**/read")
    assert page.locator("mark").count() >= 8
    assert page.locator(".verdict").inner_text() in ("unclear", "fits")
    picture(page, "read")
    page.get_by_role("button", name="Keep it for crawler").press("Enter")
    page.wait_for_url("**/candidate/*")
    page.get_by_label("Note").fill("left word on his phone")
    page.get_by_role("button", name="asked", exact=True).press("Enter")
    page.wait_for_load_state()
    assert "left word on his phone" in page.locator("table").last.inner_text()
    page.get_by_role("link", name="The sheet for the yard.").press("Enter")
    page.wait_for_url("**/sheet")
    assert page.locator("svg[role=img]").count() >= 6
    picture(page, "sheet")


def test_the_yard(page: "playwright.Page", address: str) -> None:
    page.goto(f"{address}yard")
    for _ in range(3):
        page.get_by_role("button", name="I cannot tell").click()
        page.wait_for_load_state()
    assert page.get_by_role("group", name="Look at next").count() == 1
    picture(page, "yard")


@pytest.mark.skipif(not AXE, reason="no axe-core: npm pack axe-core, and name its axe.min.js in DONORBASE_AXE")
@pytest.mark.parametrize(
    "path",
    ["", "read", "yard", "shortlist?build=rock-truck", "candidate/1", "candidate/1/sheet", "report?build=rock-truck",
     "shelf"],
)  # fmt: skip
def test_nothing_serious_for_who_reads_by_ear(page: "playwright.Page", address: str, path: str) -> None:
    if path == "read":
        page.goto(address)
        page.get_by_label("The words of the advert").fill(ADVERT)
        page.get_by_role("button", name="Read it").click()
    else:
        page.goto(f"{address}{path}")
    found = page.evaluate(f"{Path(AXE).read_text('utf-8')}; axe.run().then(r => r)")
    assert found["passes"], "nothing was checked"
    grave = [v for v in found["violations"] if v["impact"] in ("serious", "critical")]
    assert not grave, [(v["id"], v["help"], [n["html"] for n in v["nodes"]]) for v in grave]
