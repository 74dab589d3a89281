"""The wheel holds what the checkout holds: every shipped fact and migration, and nothing else beside the code."""

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def wheel_names(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    pytest.importorskip("hatchling", reason="hatchling builds the wheel; it comes with the dev extra")
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)],
        cwd=ROOT, check=True, capture_output=True,
    )  # fmt: skip
    (wheel,) = folder.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())


def kept_by_git(folder: str) -> set[str]:
    listed = subprocess.run(
        ["git", "ls-files", "-co", "--exclude-standard", folder],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return {name for name in listed.stdout.splitlines() if (ROOT / name).is_file()}


@pytest.mark.parametrize("folder", ["data", "migrations"])
def test_shipped_folders_travel_whole(folder: str, wheel_names: set[str]) -> None:
    if not (ROOT / ".git").exists():
        pytest.skip("git's list is the yardstick and this is no checkout")
    expected = {f"donorbase/{name}" for name in kept_by_git(folder)}
    assert expected
    assert expected <= wheel_names
    assert {n for n in wheel_names if n.startswith(f"donorbase/{folder}/")} == expected


def test_typed_marker_travels(wheel_names: set[str]) -> None:
    assert "donorbase/py.typed" in wheel_names


def test_the_manual_page_travels(wheel_names: set[str]) -> None:
    assert {name.partition(".data/")[2] for name in wheel_names if ".data/" in name} == {
        "data/share/man/man1/donorbase.1"
    }


def test_nothing_lands_beside_the_package(wheel_names: set[str]) -> None:
    own = {name for name in wheel_names if ".dist-info/" not in name and ".data/" not in name}
    assert {name.split("/")[0] for name in own} == {"donorbase"}
