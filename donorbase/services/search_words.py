"""What to type into whatever one searches: words for what a build wants, rightly and wrongly spelt, and local ones."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Any

from donorbase.attributes import Kind, attributes
from donorbase.facts import Value
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.judging import judging
from donorbase.reference.wording import value_text
from donorbase.reference.words import Word
from donorbase.services.admits import admitted
from donorbase.services.house import House
from donorbase.verdict.computed import requirements_of
from donorbase.verdict.spec import Build, Level
from donorbase.verdict.subjects import subject_of

_TOLD = ("knuckle", "float", "suspension", "hubs", "load_class", "rear_wheels", "pinion")
"""What sellers put into words, in the order in which it narrows a search."""
_EACH = 6
_ALIKE = 0.75
"""Share of letters in common from which a phrase is another spelling of the first: common practice."""


@dataclass(frozen=True, slots=True)
class SearchWords:
    """Words for one thing that is wanted: ``right``, ``misspelt``, ``other`` ways to say it, ``local`` (the user's
    own), ``foreign`` (Spanish and French)."""

    wanted: str
    right: tuple[str, ...]
    misspelt: tuple[str, ...]
    other: tuple[str, ...]
    local: tuple[str, ...]
    foreign: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {name: getattr(self, name) for name in self.__slots__}


def search_words(house: House, build: Build, end: str) -> tuple[SearchWords, ...]:
    """For one end: the end itself, then what its musts ask, or what every axle that they let in has in common.

    The lines of trucks whose axles may do come last, in the user's own words: no others are known.
    """
    words, catalogue = house.words(), house.catalogue()
    keys = admitted(build, end, catalogue)
    wanted = [("position", end), *_wanted(build, end, catalogue, (*keys.meets, *keys.not_known))]
    found = [_of(name, value, words) for name, value in wanted]
    lines = {str(v) for key in keys.meets for v in catalogue.variants[key].all("donor_line")}
    found += [_of("donor_line", line, words) for line in sorted(lines)]
    return tuple(one for one in found if any(getattr(one, name) for name in one.__slots__[1:]))


def _wanted(build: Build, end: str, catalogue: Catalogue, keys: Sequence[str]) -> Iterator[tuple[str, Value]]:
    asked = {r.subject: r.condition for r in requirements_of(build, end, judging()) if r.level is Level.MUST}
    for name in _TOLD:
        if name in asked and attributes()[name].kind is Kind.CHOICE:
            subject = subject_of(name)
            yield from ((name, v) for v in attributes()[name].values if asked[name].share(v, subject) == 1)
            continue
        common = {v for key in keys for v in catalogue.variants[key].all(name)}
        yield from ((name, v) for v in common if len(common) == 1)


def _of(name: str, value: Value, words: Sequence[Word]) -> SearchWords:
    phrases = [w for w in words if any((m.name, m.value) == (name, value) for m in w.meanings) and _plain(w, name)]
    english = [w.phrase for w in phrases if w.origin == "shipped" and w.language == "en"]
    own = str(value).replace("-", " ")
    right = [p for p in english if p in (own, f"{own} {name}")] or english[:1]
    rest = [p for p in english if p not in right]
    misspelt = [p for p in rest if SequenceMatcher(None, p, right[0]).ratio() >= _ALIKE]
    other = [p for p in rest if p not in misspelt and len(p) > 3]
    local = [w.phrase for w in phrases if w.origin == "user"]
    foreign = [w.phrase for w in phrases if w.origin == "shipped" and w.language != "en"]
    title = f"{attributes()[name].title}: {value_text(name, value)}"
    return SearchWords(title, *(tuple(part[:_EACH]) for part in (right, misspelt, other, local, foreign)))


def _plain(word: Word, name: str) -> bool:
    """Whether a phrase says this and little else: what says an item or a line too may be the user's own."""
    return word.origin == "user" or all(m.name in (name, "item", "position") for m in word.meanings)
