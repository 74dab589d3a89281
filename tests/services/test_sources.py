"""Many listings in one place: each form read, each fault told with its place, nothing left out in silence."""

import json
import tracemalloc
from datetime import date
from email.message import EmailMessage
from mailbox import mbox
from pathlib import Path

import pytest

from donorbase.errors import BadInput
from donorbase.services.source_fields import day_of, usd_of, zip_of
from donorbase.services.sources import Found, Source, form_of

DAY = date(2026, 11, 1)


def read(path: Path, **how: object) -> list[Found]:
    return list(Source(path, how.pop("form", None) or form_of(path), DAY, **how))  # type: ignore[arg-type]


def good(found: list[Found]) -> list[str]:
    return [one.seen.plain for one in found if one.seen]


def faults(found: list[Found]) -> dict[str, str]:
    return {one.place.rpartition("/")[2]: one.fault for one in found if not one.seen}


def test_a_folder_gives_every_text_file_and_says_which_is_none(tmp_path: Path) -> None:
    (tmp_path / "inner").mkdir()
    (tmp_path / "a.txt").write_text("front axle, 8 lug", "utf-8")
    (tmp_path / "inner" / "b.txt").write_bytes("rear axle, ½ off".encode("utf-16"))
    (tmp_path / "c.txt").write_bytes(b"\x89PNG\r\n")
    (tmp_path / "d.txt").write_bytes("caf\xe9 axle".encode("cp1252"))
    (tmp_path / "e.txt").write_text("  \n")
    (tmp_path / ".hidden").write_text("not meant")
    found = read(tmp_path)
    assert good(found) == ["front axle, 8 lug", "rear axle, ½ off"]
    told = faults(found)
    assert set(told) == {"c.txt", "d.txt", "e.txt"}
    assert "picture" in told["c.txt"]
    assert "0xe9" in told["d.txt"]
    assert "empty" in told["e.txt"]


def test_a_link_cannot_lead_out_of_the_folder(tmp_path: Path) -> None:
    folder = tmp_path / "ads"
    folder.mkdir()
    (tmp_path / "secret.txt").write_text("not an advert")
    (folder / "link.txt").symlink_to(tmp_path / "secret.txt")
    (folder / "loop").symlink_to(folder)
    found = read(folder)
    assert good(found) == []
    assert "leads out of the folder" in faults(found)["link.txt"]


def test_csv_by_its_heads_with_every_field(tmp_path: Path) -> None:
    file = tmp_path / "ads.csv"
    file.write_text(
        "Title,Description,Asking Price,Link,Zip,Distance,Posted\n"
        '"One-ton front","8x170, 35 spline\nouters","$1,250",https://ads.example/1,7103,22.5,11/03/2026\n'
        "Rear,4.10 gears,,,,,\n",
        "utf-8",
    )
    first, second = (one.seen for one in read(file))
    assert first is not None
    assert second is not None
    assert first.plain == "One-ton front\n8x170, 35 spline\nouters"
    assert (first.price_usd, first.url, first.zip) == (1250.0, "https://ads.example/1", "07103")
    assert (first.distance_mi, first.seen_on) == (22.5, date(2026, 11, 3))
    assert (second.price_usd, second.zip, second.seen_on) == (None, None, DAY)


def test_csv_tells_every_bad_row_with_line_and_reason(tmp_path: Path) -> None:
    file = tmp_path / "ads.csv"
    rows = [
        b"text;price;miles",
        b"front axle;900;10",
        b"too;few",
        b"rear axle;cheap;12",
        b"caf\xe9 axle;5;1",
        b";100;1",
        b"rear axle;100;99999",
        b"front again;nan;1",
        b'"never closed;1;1',
        b"swallowed;2;2",
    ]
    file.write_bytes(b"\n".join(rows) + b"\n")
    found = read(file)
    assert good(found) == ["front axle"]
    told = faults(found)
    assert list(told) == [f"ads.csv:{line}" for line in (3, 4, 5, 6, 7, 8, 9)]
    reasons = ("columns", "price", "0xe9", "empty", "distance", "price", "CSV")
    assert all(word in fault for word, fault in zip(reasons, told.values(), strict=True))


def test_csv_with_wrong_columns_names_those_it_has(tmp_path: Path) -> None:
    file = tmp_path / "ads.csv"
    file.write_text("words,cost\nfront axle,5\n")
    with pytest.raises(BadInput, match=r"no column that holds the text.*words, cost"):
        read(file)
    assert good(read(file, columns={"text": "Words", "price_usd": "cost"})) == ["front axle"]
    with pytest.raises(BadInput, match="no column 'wrods'"):
        read(file, columns={"text": "wrods"})
    with pytest.raises(BadInput, match="no field"):
        read(file, columns={"colour": "words"})


def test_a_named_encoding_reads_what_is_not_utf8(tmp_path: Path) -> None:
    file = tmp_path / "ads.csv"
    file.write_bytes("text\ncaf\xe9 axle\n".encode("cp1252"))
    assert good(read(file, encoding="cp1252")) == ["café axle"]
    with pytest.raises(BadInput, match="no encoding"):
        read(file, encoding="klingon")
    with pytest.raises(BadInput, match=r"ads\.csv:1 is not utf-16"):
        read(file, encoding="utf-16")


def test_a_row_in_another_encoding_is_told_and_the_others_are_good(tmp_path: Path) -> None:
    """Rows that two programs wrote into one file: the marks of one are none of the other's."""
    file = tmp_path / "mixed.csv"
    file.write_bytes(
        "text,price\nFront axle, caf\xe9,500\n".replace(", c", " c").encode() + b"na\xefve,300\nRear axle,200\n"
    )
    found = read(file)
    assert list(faults(found)) == ["mixed.csv:3"]
    assert "0xef" in faults(found)["mixed.csv:3"]
    assert "--encoding" in faults(found)["mixed.csv:3"]
    assert good(found) == ["Front axle café", "Rear axle"]


def test_csv_without_a_head_says_so(tmp_path: Path) -> None:
    file = tmp_path / "ads.csv"
    file.write_text("")
    with pytest.raises(BadInput, match="no head in its first line"):
        read(file)


def test_jsonl_tells_lines_that_are_none(tmp_path: Path) -> None:
    file = tmp_path / "ads.jsonl"
    lines = ['{"text": "front axle", "price": 500}', "", "[1]", '{"text": 5}', '{"x": 1}', "{", '{"text": "\\ud800"}']
    file.write_text("\n".join(lines))
    found = read(file)
    assert good(found) == ["front axle"]
    assert list(faults(found)) == [f"ads.jsonl:{line}" for line in (3, 4, 5, 6, 7)]


def test_a_page_is_parted_by_its_rules_else_by_blank_lines(tmp_path: Path) -> None:
    page = tmp_path / "page.txt"
    page.write_text("front axle\n\n8 lug\n-----\nrear axle\n-----\n\n")
    assert good(read(page)) == ["front axle\n\n8 lug", "rear axle"]
    page.write_text("front axle\n8 lug\n\n\nrear axle")
    assert good(read(page)) == ["front axle\n8 lug", "rear axle"]
    page.write_text("front axle\n\n8 lug\nNEXT AD\nrear axle")
    assert good(read(page, parted_by="NEXT AD")) == ["front axle\n\n8 lug", "rear axle"]


def mail(subject: str, body: str, subtype: str = "plain", charset: str = "utf-8") -> EmailMessage:
    found = EmailMessage()
    found["Subject"], found["From"], found["Date"] = subject, "a@ads.example", "Tue, 03 Nov 2026 10:00:00 -0600"
    found.set_content(body, subtype=subtype, charset=charset)
    return found


def test_a_mailbox_gives_the_words_of_each_mail(tmp_path: Path) -> None:
    file = tmp_path / "saved"
    box = mbox(file)
    box.add(mail("Saved: front axle", "8x170, $500"))
    box.add(mail("Achse", "Größe 8-170", charset="iso-8859-15"))
    box.add(mail("Page", "<style>p{}</style><p>Rear axle<br>4.10&nbsp;gears</p>", "html", "cp1252"))
    both = mail("Both", "plain words")
    both.add_alternative("<p>html words</p>", subtype="html")
    box.add(both)
    box.add(
        b"Subject: odd\nContent-Type: text/plain; charset=x-none\nContent-Transfer-Encoding: 8bit\n\ncaf\xe9 axle\n"
    )
    box.add(b"Subject: empty\nContent-Type: multipart/mixed; boundary=zz\n\n")
    box.add(b"Content-Type: image/png\nContent-Transfer-Encoding: base64\n\niVBORw0KGgo=\n")
    box.close()
    assert form_of(file) == "mbox"
    found = read(file)
    texts = good(found)
    assert texts[:4] == [
        "Saved: front axle\n8x170, $500", "Achse\nGröße 8-170", "Page\nRear axle\n4.10 gears", "Both\nplain words",
    ]  # fmt: skip
    assert "café axle" in texts[4]
    assert found[0].seen is not None
    assert found[0].seen.seen_on == date(2026, 11, 3)
    assert list(faults(found)) == [f"saved: mail {number}" for number in (6, 7) if not found[number - 1].seen]
    assert found[6].seen is None


def test_several_adverts_in_one_mail_are_parted(tmp_path: Path) -> None:
    file = tmp_path / "saved.mbox"
    box = mbox(file)
    adverts = ["Front axle, kingpin, $850", "Rear axle\n\n4.10 gears, $300"]
    box.add(mail("New for you", "Good morning\n-----\n" + "\n=====\n".join(adverts) + "\n-----\nWe never share yours."))
    box.add(mail("One", "Front axle, $500\n\nCall me\n-- \nSent from a farm"))
    box.add(mail("Foot", "Front axle, $700\n-----\nUnsubscribe here"))
    box.close()
    found = read(file)
    assert [one.place.partition(": ")[2] for one in found] == [
        "mail 1, advert 1", "mail 1, advert 2", "mail 2", "mail 3",
    ]  # fmt: skip
    assert good(found)[:2] == adverts
    assert "Front axle, $500" in good(found)[2]
    assert "Front axle, $700" in good(found)[3]


PRICES = [("$1,200", 1200), ("1200.50", 1200.5), ("1.2k", 1200), ("usd 900", 900), (850, 850), ("0", 0)]
NO_PRICES = ["cheap", "12,00", "-5", "1e9", True, "nan", [], "555-0101"]


@pytest.mark.parametrize(("raw", "usd"), PRICES)
def test_prices(raw: object, usd: float) -> None:
    assert usd_of(raw) == usd


@pytest.mark.parametrize("raw", NO_PRICES)
def test_what_is_no_price(raw: object) -> None:
    with pytest.raises(ValueError, match="price"):
        usd_of(raw)


def test_days_and_zips() -> None:
    assert {day_of(text) for text in ("2026-11-03", "11/03/2026", "2026-11-03T10:00:00Z", "Nov 3, 2026")} == {
        date(2026, 11, 3)
    }
    with pytest.raises(ValueError, match="no day"):
        day_of("03.11.2026")
    assert zip_of("07103-1234") == zip_of(7103) == "07103"
    with pytest.raises(ValueError, match="no ZIP"):
        zip_of("W1A")


def test_memory_stays_flat_whatever_the_length(tmp_path: Path) -> None:
    """Ten times the lines, and one line of 20 MB, take no more than a few lines do."""
    short, long = tmp_path / "short.jsonl", tmp_path / "long.jsonl"
    line = json.dumps({"text": "front axle 8 lug " * 20}) + "\n"
    short.write_text(line * 500)
    long.write_text(line * 5000 + '{"text": "' + "x" * 20_000_000 + '"}\n' + line)

    def peak(path: Path) -> tuple[int, int]:
        tracemalloc.start()
        count = sum(1 for _ in Source(path, "jsonl", DAY))
        _, most = tracemalloc.get_traced_memory()
        tracemalloc.stop()
        return count, most

    assert peak(short)[0] == 500
    count, most = peak(long)
    assert count == 5002
    assert most < 12_000_000
