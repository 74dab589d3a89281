"""The pages say what the services say, escape all they show, and change what they are asked to change."""

import re
from html import unescape
from pathlib import Path

import pytest
from flask.testing import FlaskClient
from hypothesis import given
from hypothesis import strategies as st

from donorbase.services.builds import find_build
from donorbase.services.candidates import history
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.web.marked import pieces_of, told_of

ADVERT = "Front axle out of an 06 one ton, coil, ball joints, 4.10, 8 lug. Locks by hand. 900 obo 555-0142"
DESK = Desk.as_shipped(2026)


@given(st.text(max_size=200) | st.builds(lambda a, b: a + ADVERT + b, st.text(max_size=20), st.text(max_size=20)))
def test_pieces_give_the_text_back(text: str) -> None:
    reading = DESK.read(text)
    told = told_of(reading)
    pieces = pieces_of(text, told)
    assert "".join(piece.text for piece in pieces) == text
    for one in told:
        marked = "".join(piece.text for piece in pieces if one.number in piece.facts)
        assert marked == "".join(text[b:e] for b, e in sorted(one.fact.spans)) or len(one.fact.spans) > 1


def plain(page: bytes) -> str:
    return unescape(re.sub(r"<[^>]+>", "", page.decode()))


def test_reading_marks_the_words(client: FlaskClient) -> None:
    page = client.post("/read", data={"text": ADVERT}).data.decode()
    marks = dict(re.findall(r"<mark>([^<]*)<sup>([\d,]+)</sup></mark>", page))
    rows = {row[0]: row for row in re.findall(r'<tr><td class="n">(\d+)</td>' + "<td>(.*?)</td>" * 5, page)}
    assert rows[marks["4.10"]][2:4] == ("axle ratio", "4.10")
    assert rows[marks["Locks by hand"]][3] == "manual-locking"


def test_judging_says_what_check_says(client: FlaskClient, database: Path) -> None:
    page = plain(client.post("/read", data={"text": ADVERT, "build": "crawler", "distance_mi": "30"}).data)
    house = House(database)
    verdict = Desk.of_house(house, 2026).check(ADVERT, find_build(house, "crawler"), 30).verdict
    assert f"{verdict.verdict} {verdict.chance:.0%} that it meets every must" in page
    for reason in verdict.reasons:
        assert reason in page


def test_what_is_put_right_is_kept_and_counts(client: FlaskClient) -> None:
    form = {"text": ADVERT, "build": "crawler", "item": "1", "name": "bolt_circle_mm", "value": "8x170"}
    assert client.post("/correct", data=form | {"value": "nonsense"}).status_code == 400
    fixed = client.post("/correct", data=form | {"value": "170", "measured": "yes"})
    assert "170 mm" in plain(fixed.data)
    assert "measured" in plain(fixed.data)
    again = plain(client.post("/read", data={"text": ADVERT, "build": "crawler"}).data)
    assert "bolt circle: not said" not in again


def test_keeping_and_its_history(client: FlaskClient, database: Path) -> None:
    answer = client.post("/keep", data={"text": ADVERT, "build": "crawler", "zip": "00601", "distance_mi": "12"})
    assert answer.status_code == 302
    place = answer.headers["Location"]
    number = int(place.rpartition("/")[2])
    client.post(place, data={"state": "asked", "note": "left word <b>"})
    client.post(place, data={"fact": "outer_splines=35", "measured": "yes"})
    page = client.get(place).data
    assert b"left word &lt;b&gt;" in page
    kept = history(House(database), number)
    assert kept.candidate.state == "asked"
    assert kept.candidate.zip == "00601"
    assert [event.kind for event in kept.events][-2:] == ["state", "correction"]
    assert kept.events[-1].who == "tester"
    client.post(place, data={"undo": "yes"})
    assert history(House(database), number).events[-1].undoes == kept.events[-1].id


def test_the_yard_asks_until_it_is_known(client: FlaskClient) -> None:
    answers = {"lugs": "8", "bolt_circle_mm": "170", "position": "front", "knuckle": "ball-joint", "suspension": "coil"}
    answers |= {
        "rear_wheels": "single",
        "outer_splines": "35",
        "drop": "driver",
        "years": "2008",
        "load_class": "one-ton",
    }
    form: dict[str, str] = {}
    skipped: list[str] = []
    for _ in range(25):
        page = client.post("/yard", data={**form, "skipped": skipped}).data.decode()
        asked = re.search(r'name="asked" value="(\w+)"', page)
        if not asked:
            break
        if asked[1] in answers:
            form[f"saw:{asked[1]}"] = answers[asked[1]]
        else:
            skipped.append(asked[1])
    best = re.search(r'<td class="n">([\d.]+)%</td><td>([^<]+)</td>', page)
    assert best
    assert best[2] == "front-9.75-balljoint/a-2005-2010-srw"
    assert float(best[1]) > 90


def test_a_wrong_answer_is_told_and_asked_again(client: FlaskClient) -> None:
    page = client.post("/yard", data={"asked": "lugs", "answer": "ninety"}).data.decode()
    assert "Not used:" in page
    assert 'value="ninety"' not in page


def test_what_was_seen_can_be_taken_back(client: FlaskClient) -> None:
    page = client.post("/yard", data={"saw:lugs": "8", "saw:position": "front", "take-back": "lugs"}).data.decode()
    assert 'name="saw:lugs"' not in page
    assert 'name="saw:position"' in page


@pytest.mark.parametrize("path", ["/shortlist?build=rock-truck", "/report?build=rock-truck", "/shelf", "/candidate/1"])
def test_pages_stand_without_scripts(client: FlaskClient, path: str) -> None:
    page = client.get(path)
    assert page.status_code == 200
    assert b"<script" not in page.data
    assert b"a caution" in page.data


def test_sheet_and_part(client: FlaskClient) -> None:
    assert b"<svg" in client.get("/candidate/1/sheet").data
    tag = re.search(r'href="/shelf/(\w+)"', client.get("/shelf").data.decode())
    assert tag
    assert b"shed &lt;3&gt;" in client.get(f"/shelf/{tag[1]}").data


def test_hostile_words_are_shown_and_do_nothing(client: FlaskClient) -> None:
    text = '<script>alert(1)</script><img src=x onerror=alert(2)> "><svg/onload=alert(3)> rear axle 14 bolt 400'
    page = client.post("/read", data={"text": text, "build": "rock-truck"}).data.decode()
    assert "<script" not in page
    assert "<img" not in page
    assert "<svg" not in page


@pytest.mark.parametrize(
    ("path", "form", "code"),
    [
        ("/candidate/9999", None, 404),
        ("/shortlist?build=nobody", None, 404),
        ("/shelf/ZZZZ", None, 400),
        ("/read", {"text": ""}, 400),
        ("/read", {"text": ADVERT, "distance_mi": "far"}, 400),
        ("/read", {"text": ADVERT, "build": "nobody"}, 404),
        ("/keep", {"text": ADVERT}, 404),
        ("/candidate/1", {"note": ""}, 400),
    ],
)
def test_what_goes_wrong_is_told(client: FlaskClient, path: str, form: dict[str, str] | None, code: int) -> None:
    answer = client.get(path) if form is None else client.post(path, data=form)
    assert answer.status_code == code
    assert b'role="alert"' in answer.data
