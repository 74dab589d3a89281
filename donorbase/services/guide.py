"""The guide for somebody who does the job for the first time: its pages, and the terms, one by one."""

from collections import Counter
from dataclasses import dataclass
from typing import Any

from donorbase.attributes import Attribute
from donorbase.errors import NotFound
from donorbase.reference.guide import Page, pages, terms

OF_EACH = 2
"""Words shown of each thing that an attribute can be."""


@dataclass(frozen=True, slots=True)
class Term:
    """An attribute explained, with some of the words in which sellers tell it."""

    attribute: Attribute
    words: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """Name, title, what it is, how to find out, the question, what it can be, sellers' words."""
        one = self.attribute
        told = {"name": one.name, "title": one.title, "about": one.about, "how": one.how, "ask": one.ask}
        return told | {"values": list(one.values), "words": list(self.words)}


def page_json(page: Page) -> dict[str, Any]:
    """A page as plain data."""
    told = {"key": page.key, "title": page.title, "says": list(page.says), "commands": list(page.commands)}
    return told | {"explains": {one.name: one.about for one in page.explains}}


def topic(asked: str) -> Page | Term:
    """The page of that word, or the term; NotFound names what comes near."""
    plain = asked.strip().casefold()
    for page in pages():
        if plain == page.key:
            return page
    for one in terms():
        if plain.replace(" ", "_").replace("-", "_") in (one.name, one.title.replace(" ", "_")):
            return Term(one, _words(one.name))
    from donorbase.services.near import near_keys

    near = near_keys(plain, [*(page.key for page in pages()), *(one.name for one in terms())])
    hint = f"Near it: {', '.join(near)}. " if near else ""
    raise NotFound(f"the guide has nothing on {asked!r}", f"{hint}`donorbase guide` lists its pages and terms.")


def _words(name: str) -> tuple[str, ...]:
    """The first words of the vocabulary for each thing that an attribute can be."""
    from donorbase.reference.words import load_words

    shown: Counter[object] = Counter()
    found = []
    for word in load_words():
        told = [meaning.value for meaning in word.meanings if meaning.name == name and word.language == "en"]
        if len(word.meanings) == 1 and told and shown[told[0]] < OF_EACH:
            shown[told[0]] += 1
            found.append(word.phrase)
    return tuple(found)


def following(page: Page) -> Page | None:
    """The page after it."""
    keys = [one.key for one in pages()]
    left = pages()[keys.index(page.key) + 1 :]
    return left[0] if left else None
