"""donorbase(1): all that the help says, in macros that man, groff and mandoc take without a word."""

import shutil
import subprocess
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from donorbase.cli.main import cli
from donorbase.cli.manual import manual
from tests.cli.test_main import walk


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("man") / "donorbase.1"
    file.write_text(manual(cli), "utf-8")
    return file


def test_it_holds_every_command_option_and_example(page: Path) -> None:
    text = page.read_text("utf-8").replace("\\-", "-").replace("\\(dq", '"').replace("\\e", "\\")
    looked = 0
    for path, command in walk(cli):
        looked += 1
        assert not path or f'.SS "donorbase {" ".join(path)}"' in text
        for param in command.get_params(click.Context(command)):
            if isinstance(param, click.Option):
                assert all(name in text for name in param.opts), (path, param.opts)
        for line in (command.epilog or "").splitlines():
            assert line.strip("\b ") in text
    assert looked > 130


@pytest.mark.parametrize(
    "command",
    [["mandoc", "-T", "lint", "-W", "warning"], ["groff", "-man", "-ww", "-z", "-Tutf8"]],
    ids=["mandoc", "groff"],
)
def test_no_formatter_complains(page: Path, command: list[str]) -> None:
    if not shutil.which(command[0]):
        pytest.skip(f"{command[0]} is not installed")
    done = subprocess.run([*command, str(page)], capture_output=True, text=True)
    told = (done.stdout + done.stderr).splitlines()
    # There is no date, so that one release makes one page.
    assert [line for line in told if "missing date" not in line] == []


def test_it_can_be_read(page: Path) -> None:
    if not shutil.which("mandoc"):
        pytest.skip("mandoc is not installed")
    done = subprocess.run(["mandoc", "-T", "ascii", str(page)], capture_output=True, text=True, check=True)
    text = done.stdout.replace("\b", "")
    assert "donorbase part split AAC4 --without steering-arm" in text
    assert max(map(len, text.splitlines())) < 400


def test_of_one_command_and_of_none() -> None:
    done = CliRunner().invoke(cli, ["man", "part", "split"])
    assert done.exit_code == 0
    assert done.stdout.startswith('.TH "DONORBASE\\-PART\\-SPLIT" 1')
    assert "steering\\-arm" in done.stdout
    refused = CliRunner().invoke(cli, ["man", "part", "splti"])
    assert refused.exit_code == 2
    assert "splti" in refused.stderr
