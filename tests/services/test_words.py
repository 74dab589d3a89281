"""Words are taught, listed, forgotten, sent out and taken back; shipped ones are never put aside unsaid."""

import csv
import io
from contextlib import closing
from pathlib import Path

import pytest

from donorbase.errors import BadData, BadInput, NotFound
from donorbase.reference.words import load_words, ordinary_words, parse_meaning
from donorbase.services import words
from donorbase.services.house import House


def test_a_word_is_taught_and_stands_after_the_shipped_ones(house: House) -> None:
    taught = words.add_word(house, "  grazier   35 ", "donor_line=line-A; load_class=one-ton", "seen twice")
    assert taught.word.phrase == "grazier 35"
    assert taught.shadows == ()
    assert taught.replaced is None
    with closing(House(house.place)) as again:
        assert again.words()[-1] == taught.word
    assert words.list_words(house) == (taught.word,)
    assert words.list_words(house, "line-A") == (taught.word,)
    assert words.list_words(house, "nothing like it") == ()


def test_a_shipped_word_is_never_put_aside_unsaid(house: House) -> None:
    taught = words.add_word(house, "DUALLY", "rear_wheels=single")
    assert [word.origin for word in taught.shadows] == ["shipped"]
    assert taught.as_json()["shadows"][0]["meaning"] == "rear_wheels=dual"
    assert set(load_words()) <= set(house.words()), "the shipped word is still there"


def test_an_earlier_word_of_his_own_is_named(house: House) -> None:
    first = words.add_word(house, "grazier", "donor_line=line-A").word
    again = words.add_word(house, "Grazier", "donor_line=line-B")
    assert again.replaced == first
    assert words.list_words(house) == (again.word,)


def test_an_everyday_word_is_marked(house: House) -> None:
    everyday = min(word for word in ordinary_words() if word.isalpha())
    assert words.add_word(house, everyday, "lugs=8").ordinary
    assert not words.add_word(house, "grazier", "lugs=8").ordinary


REFUSED = [
    ("", "lugs=8", "holds no letters"),
    ("4.10", "lugs=8", "holds no letters"),
    ("x" * 61, "lugs=8", "has 61 characters"),
    ("graz\x00ier", "lugs=8", "cannot be printed"),
    ("grazier", "", "meaning is empty"),
    ("grazier", "lug=8", "no attribute 'lug'"),
    ("grazier", "lugs=99", "99"),
    ("grazier", "family=front-9.75-baljoint", "no family 'front-9.75-baljoint'"),
    ("grazier", "variant=front-9.75-balljoint/x", "no variant"),
    ("grazier", "unit=lug", "no attribute 'unit'"),
]


@pytest.mark.parametrize(("phrase", "meaning", "said"), REFUSED)
def test_refused(house: House, phrase: str, meaning: str, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        words.add_word(house, phrase, meaning)
    assert words.list_words(house) == ()


def test_a_word_is_forgotten(house: House) -> None:
    words.add_word(house, "grazier", "donor_line=line-A")
    with pytest.raises(NotFound) as wrong:
        words.remove_word(house, "graizer")
    assert "grazier" in wrong.value.next_step
    words.remove_word(house, "GRAZIER")
    assert words.list_words(house) == ()
    with pytest.raises(NotFound):
        words.remove_word(house, "dually")


# Cells that a spreadsheet would run, and those that already bear the apostrophe.
RISKY_NOTES = [
    "=1+1",
    "+1 in the yard",
    "-",
    "@here",
    "'=quoted",
    "plain, with comma",
    'a "quote"',
    "two\nlines",
]


def test_an_export_is_taken_back_whole(house: House, tmp_path: Path) -> None:
    for number, note in enumerate(RISKY_NOTES):
        words.add_word(house, f"grazier {chr(97 + number)}", "donor_line=line-A; lugs=8", note)
    sent = words.export_words(house)
    before = words.list_words(house)
    for cell in (cell for row in csv.reader(io.StringIO(sent)) for cell in row):
        assert cell[:1] not in ("=", "+", "-", "@"), cell
    for word in before:
        words.remove_word(house, word.phrase)
    (tmp_path / "words.csv").write_text(sent, "utf-8")
    assert len(words.import_words(house, tmp_path / "words.csv")) == len(RISKY_NOTES)
    assert words.list_words(house) == before


def filled(text: str, **names: str) -> str:
    """The sheet with names written into its last column, by meaning."""
    rows = list(csv.reader(io.StringIO(text)))
    for row in rows[1:]:
        row[-1] = names.get(row[0].partition("=")[2].replace("-", "_").replace(".", "_"), row[-1])
    out = io.StringIO()
    csv.writer(out).writerows(rows)
    return out.getvalue()


def test_the_sheet_lists_every_line_and_family(house: House) -> None:
    rows = list(csv.DictReader(io.StringIO(words.sheet(house))))
    catalogue = house.catalogue()
    assert len(rows) == len(catalogue.lines) + len(catalogue.families)
    assert all(row["how to recognise it"] and row["what it is"] and row["called here"] == "" for row in rows)
    assert all(parse_meaning(row["meaning"]) for row in rows)


def test_a_filled_in_sheet_is_taken_in(house: House, tmp_path: Path) -> None:
    path = tmp_path / "sheet.csv"
    path.write_text(
        filled(words.sheet(house), line_A="Tolvern; Grazier 35| TLV", rear_8_80_ten_bolt="tolvern 8.8"),
        "utf-8",
    )
    taught = words.import_words(house, path)
    assert {(t.word.phrase, t.word.meanings[0].value) for t in taught} == {
        ("Tolvern", "line-A"),
        ("Grazier 35", "line-A"),
        ("TLV", "line-A"),
        ("tolvern 8.8", "rear-8.80-ten-bolt"),
    }
    again = {row["meaning"]: row["called here"] for row in csv.DictReader(io.StringIO(words.sheet(house)))}
    assert again["donor_line=line-A"] == "Tolvern; Grazier 35; TLV", "what was taught stands in the next sheet"


def test_sheets_of_other_spreadsheets_are_read(house: House, tmp_path: Path) -> None:
    path = tmp_path / "sheet.csv"
    path.write_text("\ufeffPhrase;Meaning;Note\ngrazier;lugs=8;\n;;\n", "utf-8")
    (taught,) = words.import_words(house, path)
    assert taught.word.phrase == "grazier"


def test_all_faulty_rows_are_told_and_none_is_taken(house: House, tmp_path: Path) -> None:
    path = tmp_path / "words.csv"
    path.write_text("phrase,meaning\ngrazier,lugs=8\nbad,lug=8\n\n123,lugs=8\nbad too,drop=left\n", "utf-8")
    with pytest.raises(BadData) as wrong:
        words.import_words(house, path)
    assert [fault.partition(": ")[0] for fault in wrong.value.faults] == [
        "words.csv:3",
        "words.csv:5",
        "words.csv:6",
    ]
    assert words.list_words(house) == ()


def test_one_phrase_with_two_meanings_is_told(house: House, tmp_path: Path) -> None:
    path = tmp_path / "words.csv"
    path.write_text("phrase,meaning\ngrazier,lugs=8\nGRAZIER,lugs=6\n", "utf-8")
    with pytest.raises(BadData, match="two meanings"):
        words.import_words(house, path)


UNUSABLE = [
    (b"name,value\na,b\n", "has not the columns"),
    (b"", "has not the columns"),
    (b"phrase,meaning\n\xff\xfe,lugs=8\n", "not UTF-8"),
]


@pytest.mark.parametrize(("content", "said"), UNUSABLE)
def test_files_that_are_no_word_list(house: House, tmp_path: Path, content: bytes, said: str) -> None:
    path = tmp_path / "words.csv"
    path.write_bytes(content)
    with pytest.raises(BadInput, match=said):
        words.import_words(house, path)
    with pytest.raises(BadInput, match="cannot be read"):
        words.import_words(house, tmp_path / "none.csv")
