"""The house keeps its plan: arrows between rooms run one way, each library has one home, files stay small."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "donorbase"

# What each room may import of ours. Rooms lower down are open to all above them.
GROUND = {"attributes", "errors", "shipped"}
ROOMS = {
    "errors": set(),
    "shipped": {"errors"},
    "attributes": {"errors", "shipped"},
    "facts": {"attributes"},
    "reference": GROUND | {"facts"},
    "reading": GROUND | {"facts", "reference"},
    "engineering": GROUND | {"facts", "reference"},
    "reposts": {"facts"},
    "identity": GROUND | {"facts", "reference", "engineering"},
    "verdict": GROUND | {"facts", "reference", "engineering", "identity"},
    "shelf": GROUND | {"facts", "reference", "engineering"},
    "store": GROUND | {"facts", "reference"},
    "services": GROUND
    | {"facts", "reference", "reading", "engineering", "identity", "verdict", "reposts", "shelf", "store", "__init__"},
    "reports": GROUND | {"facts", "reference", "engineering", "identity", "verdict", "services"},
    "web": GROUND | {"facts", "reference", "identity", "verdict", "services", "reports"},
    "api": GROUND | {"facts", "reference", "reading", "identity", "verdict", "services"},
    # The command line shows what the rooms hand back, so it may know their types; it calls services only,
    # but for the calculators, which are engineering and nothing else.
    "cli": GROUND
    | {"facts", "reference", "engineering", "identity", "verdict", "shelf", "services", "reports", "web", "__init__"},
    "__main__": {"cli"},
    "__init__": set(),
}
PURE = {"facts", "reading", "reposts", "identity", "engineering", "verdict", "shelf"}
HOMES = {
    "click": {"cli"},
    "tabulate": {"cli/output.py"},
    "jinja2": {"reports", "web"},
    "flask": {"web"},
    "rapidfuzz": {"reading", "services", "store"},
    "sqlmodel": {"store"},
    "sqlalchemy": {"store"},
    "alembic": {"store"},
}
OUTSIDE_WORLD = {"os", "pathlib", "sys", "subprocess", "socket", "time", "datetime", "sqlite3", "random"}


def files() -> list[Path]:
    found = sorted(PACKAGE.rglob("*.py"))
    assert found, "no file of the package was seen"
    return found


def room_of(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imports(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def arrows() -> set[tuple[str, str]]:
    seen = set()
    for path in files():
        for name in imports(path):
            parts = name.split(".")
            if parts[0] == "donorbase":
                target = (
                    parts[1] if (PACKAGE / parts[1]).exists() or (PACKAGE / f"{parts[1]}.py").exists() else "__init__"
                )
                seen.add((room_of(path), target))
    return seen


def test_arrows_run_one_way() -> None:
    seen = arrows()
    assert len(seen) > 10, "too few arrows seen: the test looks in the wrong place"
    assert {source for source, _ in seen} <= ROOMS.keys(), "a room that the plan does not know"
    wrong = sorted((s, t) for s, t in seen if s != t and t not in ROOMS[s])
    assert not wrong


@pytest.mark.parametrize("library", HOMES)
def test_a_library_has_one_home(library: str) -> None:
    users = {p.relative_to(PACKAGE).as_posix() for p in files() if any(n.split(".")[0] == library for n in imports(p))}
    assert users, f"nobody uses {library}"
    strangers = {u for u in users if not any(u == home or u.startswith(f"{home}/") for home in HOMES[library])}
    assert not strangers


def test_rapidfuzz_is_known_to_one_file_of_a_room() -> None:
    users = [room_of(p) for p in files() if any(n.split(".")[0] == "rapidfuzz" for n in imports(p))]
    assert users
    assert len(users) == len(set(users))


def test_pure_rooms_do_not_know_the_world() -> None:
    looked = 0
    for path in files():
        if room_of(path) in PURE:
            looked += 1
            met = {name.split(".")[0] for name in imports(path)} & OUTSIDE_WORLD
            assert not met, f"{path}: {met}"
    assert looked > 10


def test_files_and_functions_stay_small() -> None:
    functions = 0
    for path in files():
        text = path.read_text("utf-8")
        assert len(text.splitlines()) <= 400, path
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.FunctionDef):
                functions += 1
                body = node.body[1:] if ast.get_docstring(node) is not None and len(node.body) > 1 else node.body
                length = (node.body[-1].end_lineno or 0) - body[0].lineno + 1
                assert length <= 40, f"{path}:{node.lineno} {node.name} has {length} lines"
    assert functions > 100


def test_top_level_holds_what_a_newcomer_needs() -> None:
    named = {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "donorbase",
        "data",
        "migrations",
        "tests",
        "LICENSE",
    }
    top = {p.name for p in PACKAGE.parent.iterdir() if not p.name.startswith(".")}
    leftovers = {"build", "dist", "donorbase.egg-info", "__pycache__"}
    assert top - leftovers == named


def test_models_do_not_postpone_annotations() -> None:
    """A postponed annotation breaks SQLModel's relationships and columns."""
    models = [p for p in files() if room_of(p) == "store"]
    assert models
    for path in models:
        assert "from __future__ import annotations" not in path.read_text("utf-8"), path


def test_banned_file_names() -> None:
    banned = {"utils", "helpers", "common", "misc", "manager", "base"}
    assert not [p for p in files() if p.stem in banned]
