"""``data/guide.toml`` -> the pages that lead a newcomer through the job, with the terms each explains; rows checked."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from donorbase.attributes import Attribute, attributes
from donorbase.reference.rows import Row
from donorbase.reference.when import rule_file
from donorbase.shipped import data_dir

_PAGE = ("key", "title", "says", "explains", "commands", "basis")


@dataclass(frozen=True, slots=True)
class Page:
    """A page: paragraphs, the attributes it explains, and what to type."""

    key: str
    title: str
    says: tuple[str, ...]
    explains: tuple[Attribute, ...]
    commands: tuple[str, ...]
    basis: str


@cache
def pages() -> tuple[Page, ...]:
    """The shipped pages in the order of the job; BadData with every fault of the file."""
    return pages_from(data_dir() / "guide.toml")


def pages_from(path: Path) -> tuple[Page, ...]:
    """The pages of a file of the shape of ``data/guide.toml``."""
    with rule_file(path, "page") as (_, tables):
        return tuple(map(_page, tables))


def _page(row: Row) -> Page:
    row.only(_PAGE)
    names = row.texts("explains")
    for name in names:
        if name not in attributes() or not attributes()[name].about:
            row.fault("explains", f"{name!r} is no attribute with words on what it is (about)")
    return Page(
        key=row.needed("key"),
        title=row.needed("title"),
        says=row.texts("says"),
        explains=tuple(attributes()[name] for name in names if name in attributes()),
        commands=row.texts("commands"),
        basis=row.needed("basis"),
    )


def terms() -> tuple[Attribute, ...]:
    """The attributes of which it is told what they are."""
    return tuple(one for one in attributes().values() if one.about)
