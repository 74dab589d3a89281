"""Builds of the user: kept from a file, found again by name, or taken from a file as they are."""

import shlex
from collections.abc import Collection, Mapping
from contextlib import suppress
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from typing import Any

from donorbase.errors import BadInput, DonorbaseError, NotFound
from donorbase.reference.judging import judging
from donorbase.services.house import House
from donorbase.services.near import near_keys
from donorbase.verdict.build import Where, parse_build, read_build
from donorbase.verdict.computed import requirements_of
from donorbase.verdict.spec import Build, Requirement


@dataclass(frozen=True, slots=True)
class Added:
    """A build that was kept, and whether it is new."""

    name: str
    build: Build
    is_new: bool


def add_build(house: House, path: Path, name: str | None = None) -> Added:
    """Keep a build file under a name, by default the file's; all its faults at once where it has any."""
    text = _text(path)
    build = read_build(text, path.name, works=_works(house))
    kept = name or path.stem
    return Added(kept, build, house.keep_build(kept, text))


def kept_builds(house: House) -> tuple[tuple[str, Build], ...]:
    """Every build kept, by name."""
    works = _works(house)
    return tuple((kept.name, read_build(kept.toml, kept.name, works=works)) for kept in house.builds())


def find_build(house: House, name_or_file: str) -> Build:
    """A kept build by name, or a build file by path; NotFound names the near ones."""
    names = {kept.name: kept for kept in house.builds()}
    if name_or_file in names:
        return read_build(names[name_or_file].toml, name_or_file, works=_works(house))
    path = Path(name_or_file)
    if path.is_file():
        return read_build(_text(path), path.name, works=_works(house))
    near = near_keys(name_or_file, names)
    hint = f"Near it: {', '.join(near)}." if near else "`donorbase build list` shows those kept; or name a file."
    raise NotFound(f"there is no build and no file named {name_or_file!r}", hint)


def build_text(house: House, name_or_file: str) -> str:
    """The text of a kept build, or of a build file; as ``find_build`` finds them, and checked like there."""
    find_build(house, name_or_file)
    kept = {one.name: one.toml for one in house.builds()}
    return kept[name_or_file] if name_or_file in kept else _text(Path(name_or_file))


def draft_of(house: House, name: str) -> Path:
    """A new file beside the database (or in the present folder) that holds the text of a kept build, to be edited."""
    kept = house.build(name)
    folder = house.path.parent if house.path else Path.cwd()
    plain = "".join(c if c.isalnum() or c in "-_" else "-" for c in name)
    for number in count(1):
        draft = folder / f"{plain}-draft-{number}.toml"
        with suppress(FileExistsError), draft.open("x", encoding="utf-8", newline="") as file:
            file.write(kept.toml)
            break
    return draft


def keep_draft(house: House, name: str, draft: Path) -> bool:
    """Keep an edited draft in place of the build; whether it was changed. The draft goes away once it is kept.

    An error says what is wrong with it, and where the draft stays; the kept build then is as it was.
    """
    try:
        text = _text(draft)
        changed = text != house.build(name).toml
        if changed:
            read_build(text, draft.name, works=_works(house))
            house.keep_build(name, text)
    except DonorbaseError as wrong:
        wrong.next_step = (
            f"Your text stays in {draft}, the kept build is as it was. "
            f"Mend it, then: donorbase build add {shlex.quote(str(draft))} --name {shlex.quote(name)}"
        )
        raise
    draft.unlink()
    return changed


def computed_requirements(build: Build) -> tuple[tuple[str, Requirement], ...]:
    """What follows from the vehicle, by end, each with its sum; the owner's own word stands in for any of them."""
    rules = judging()
    return tuple(
        (end, requirement)
        for end in build.wants
        for requirement in requirements_of(build, end, rules)
        if requirement.computed
    )


def build_of(house: House, given: Any) -> Build:
    """The build of a JSONL line: an object in the form of a build file, or the name of a kept one."""
    if isinstance(given, Mapping):
        return parse_build(given, Where(str(given.get("name", "build"))), works=_works(house))
    if isinstance(given, str):
        return find_build(house, given)
    raise BadInput("build is neither an object nor a name", "Give the build itself or the name of a kept one.")


def _works(house: House) -> Collection[str]:
    return house.catalogue().works


def _text(path: Path) -> str:
    try:
        return path.read_text("utf-8")
    except UnicodeDecodeError as wrong:
        raise BadInput(f"{path} is not UTF-8 text ({wrong.reason})", "Save the build file as UTF-8.") from None
    except OSError as wrong:
        raise BadInput(f"{path} cannot be read: {wrong.strerror}", "Name a build file (TOML).") from None
