"""The sets of words that the steps of the reading take alike; words are common practice of the trade."""

from pathlib import Path

import pytest

from donorbase.errors import BadData
from donorbase.reference.word_sets import word_set, word_sets_from


def test_a_set_holds_its_words() -> None:
    assert {"shot", "worn out", "howls"} <= word_set("bad")
    assert "shot" not in word_set("linking")


def test_a_file_with_faults_is_refused_with_all_of_them(tmp_path: Path) -> None:
    path = tmp_path / "word-sets.csv"
    path.write_text("set,what,words\na,one,x; y\na,two,z; z\nb,,q;\n", "utf-8")
    with pytest.raises(BadData) as refused:
        word_sets_from(path)
    told = str(refused.value)
    assert "a stands twice" in told
    assert "has a word twice" in told
    assert "what is missing" in told
