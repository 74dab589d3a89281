"""The shipped lexicon, built once, and a short way to read."""

from collections.abc import Callable
from typing import Any

import pytest

from donorbase.reading.lexicon import Lexicon
from donorbase.reading.read import read_listing
from donorbase.reference.words import load_words


@pytest.fixture(scope="session")
def lexicon() -> Lexicon:
    return Lexicon.build(load_words())


@pytest.fixture(scope="session")
def read(lexicon: Lexicon) -> Callable[[str], dict[str, Any]]:
    return lambda text: read_listing(text, lexicon, 2026).as_json(evidence=False)


@pytest.fixture(scope="session")
def first(read: Callable[[str], dict[str, Any]]) -> Callable[[str], dict[str, Any]]:
    return lambda text: read(text)["items"][0]
