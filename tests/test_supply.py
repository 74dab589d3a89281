"""What the program and its development rest on: known versions with digests, and licences that let it be given on."""

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

TOP = Path(__file__).parents[1]
LOCK = (TOP / ".ci" / "lock.txt").read_text("utf-8")
LICENCES = dict(line.split(": ", 1) for line in (TOP / ".ci" / "licences.txt").read_text("utf-8").splitlines())
PROJECT = tomllib.loads((TOP / "pyproject.toml").read_text("utf-8"))["project"]

PERMISSIVE = ("MIT", "BSD", "Apache", "PSF", "Python Software Foundation", "ISC", "Zope", "MPL", "Mozilla", "Unlicense")
# Used as it comes, by those who ask for the extra or run the tests; nothing of it is given on with the wheel.
LESSER = {"psycopg": "LGPL-3.0-only", "psycopg-binary": "LGPL-3.0-only"}


def locked() -> dict[str, set[Version]]:
    found: dict[str, set[Version]] = {}
    for name, version in re.findall(r"^([\w.-]+)==([\w.+!]+)", LOCK, re.MULTILINE):
        found.setdefault(canonicalize_name(name), set()).add(Version(version))
    assert len(found) > 40
    return found


def asked() -> Iterator[Requirement]:
    """What the project itself and its tests and development ask for."""
    extras = PROJECT["optional-dependencies"]
    for line in (*PROJECT["dependencies"], *extras["test"], *extras["dev"]):
        needed = Requirement(line)
        if needed.name != PROJECT["name"]:
            yield needed


def test_what_is_asked_for_is_locked_in_a_version_that_will_do() -> None:
    versions, looked = locked(), 0
    for needed in asked():
        looked += 1
        found = versions.get(canonicalize_name(needed.name))
        assert found, f"{needed.name} is not in .ci/lock.txt: make it anew (DEVELOPERS.md)"
        assert all(needed.specifier.contains(one) for one in found), needed
    assert looked > 20


def test_every_locked_version_has_its_digests() -> None:
    pinned = re.split(r"^(?=[\w.-]+==)", LOCK, flags=re.MULTILINE)[1:]
    assert len(pinned) >= len(locked())
    assert all(re.search(r"--hash=sha256:[0-9a-f]{64}", one) for one in pinned)
    assert "://" not in LOCK


def test_what_belongs_to_an_extra_is_tested() -> None:
    """An extra that no test installs would rot unseen."""
    extras = PROJECT["optional-dependencies"]
    tested = {canonicalize_name(Requirement(line).name) for line in extras["test"]}
    for name, lines in extras.items():
        if name not in ("test", "dev", "bench"):
            assert {canonicalize_name(Requirement(line).name) for line in lines} <= tested, name


def test_the_licence_of_every_package_is_known_and_lets_it_be_used() -> None:
    assert LICENCES.keys() == locked().keys(), "python .ci/licences writes the list anew"
    for name, told in LICENCES.items():
        if name in LESSER:
            assert told == LESSER[name]
        else:
            # "A OR B" may be taken by either; "A AND B" binds by both.
            assert any(word in told for word in PERMISSIVE), f"{name}: {told}"
            assert not re.search(r"\bA?GPL", told), f"{name}: {told}"


def test_nothing_but_what_may_be_given_on_is_needed_to_run_it() -> None:
    needed = {canonicalize_name(Requirement(line).name) for line in PROJECT["dependencies"]}
    assert needed
    assert not needed & LESSER.keys()
