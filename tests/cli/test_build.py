"""``build check``, and what ``check`` has for the seller and for scripts."""

import json
import sys
from pathlib import Path

import pytest

DEMO = Path(__file__).parents[2] / "data" / "demo"
CRAWLER = str(DEMO / "crawler.toml")
FITTING = "Front axle off a 2008 one ton, coil, ball joint, SRW, 8x170, 3.73, driver side. $900 obo, 555-0101"
OPEN = "Front axle off an 09 one ton 4x4, coils, ball joints, 8 lug, 3.73. $700 obo 555-0124"
WANTED = "WANTED: front axle off a 2008 one ton, 8x170. 555-0101"


def test_build_check_says_what_is_open(run, tmp_path: Path) -> None:
    file = tmp_path / "bare.toml"
    file.write_text('name = "bare"\nwants = ["front"]\n[front.must]\nlugs = 6\nbolt_circle_mm = 170.0\n')
    result = run("build", "check", str(file))
    assert result.exit_code == 0, result.stderr
    for words in ("no limit of money", "landed_limit_usd", "can meet both", "shuts out"):
        assert words in result.stdout


def test_build_check_json(run) -> None:
    found = json.loads(run("build", "check", CRAWLER, "--json").stdout)
    assert found["open"] == []
    assert found["ends"][0]["meets"]
    assert found["ends"][0]["of"] > len(found["ends"][0]["meets"])


def test_build_check_of_what_is_not_there(run) -> None:
    result = run("build", "check", "nowhere.toml")
    assert result.exit_code == 5
    assert "nowhere.toml" in result.stderr


def test_build_check_of_a_broken_file_tells_its_faults(run, tmp_path: Path) -> None:
    file = tmp_path / "broken.toml"
    file.write_text('name = "x"\nwants = ["front"]\n[front.must]\nlugz = 8\ndrop = "left"\n')
    result = run("build", "check", str(file))
    assert result.exit_code == 4
    assert "broken.toml:4" in result.stderr
    assert "broken.toml:5" in result.stderr


def test_the_message_numbers_at_most_three_questions(run) -> None:
    asked = json.loads(run("check", "-b", CRAWLER, "--json", text=OPEN).stdout)["questions"]
    result = run("check", "-b", CRAWLER, "--message", text=OPEN)
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    assert lines[0].startswith("Hello")
    assert lines[1:-1] == [f"{number}. {ask}" for number, ask in enumerate(asked[:3], 1)]
    assert lines[-1].startswith("Thank")
    assert "front axle" in lines[0]


def test_no_message_where_nothing_helps(run) -> None:
    result = run("check", "-b", CRAWLER, "--message", text=WANTED)
    assert result.exit_code == 0
    assert result.stdout == ""
    assert "nothing to ask" in result.stderr


CODES = {"fits": 0, "fits with work": 10, "unclear": 11, "does not fit": 12}


@pytest.mark.parametrize("text", [FITTING, OPEN, WANTED])
def test_the_exit_code_tells_the_verdict(run, text: str) -> None:
    result = run("check", "-b", CRAWLER, "--json", "--exit-code", text=text)
    assert result.exit_code == CODES[json.loads(result.stdout)["verdict"]]
    assert run("check", "-b", CRAWLER, text=text).exit_code == 0


def test_unclear_and_no_leave_with_their_own_codes(run) -> None:
    assert run("check", "-b", CRAWLER, "--exit-code", text=OPEN).exit_code == 11
    assert run("check", "-b", CRAWLER, "--exit-code", text=WANTED).exit_code == 12


@pytest.mark.parametrize(
    "args", [["--message", "--json"], ["--message", "--jsonl", "-"], ["--exit-code", "--jsonl", "-"]]
)
def test_options_that_do_not_go_together(run, args: list[str]) -> None:
    result = run("check", "-b", CRAWLER, *args, text=OPEN)
    assert result.exit_code == 2
    assert result.stdout == ""


@pytest.fixture
def kept(run_fresh):
    """The demo crawler, kept in a database of this test alone."""
    assert run_fresh("build", "add", CRAWLER).exit_code == 0
    return run_fresh


def editor(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: str) -> None:
    """An editor that runs ``code`` on the text ``t`` of the file and writes it back."""
    script = tmp_path / "editor.py"
    script.write_text(
        f"import sys\nfrom pathlib import Path\np = Path(sys.argv[-1])\nt = p.read_text()\n{code}\np.write_text(t)\n"
    )
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("VISUAL", raising=False)
    monkeypatch.setenv("EDITOR", f"{sys.executable} {script}")


def test_an_edited_build_is_kept(kept, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    editor(tmp_path, monkeypatch, "t = t.replace('landed_limit_usd = 2200', 'landed_limit_usd = 2300')")
    result = kept("build", "edit", "crawler")
    assert result.exit_code == 0, result.output
    assert json.loads(kept("build", "show", "crawler", "--json").stdout)["money"]["landed_limit_usd"] == 2300
    assert not list(tmp_path.glob("*draft*"))


def test_a_build_that_was_not_changed(kept, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    editor(tmp_path, monkeypatch, "")
    assert "as it was" in kept("build", "edit", "crawler").stdout
    assert not list(tmp_path.glob("*draft*"))


def test_a_broken_edit_is_refused_and_not_lost(kept, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = kept("build", "show", "crawler", "--toml").stdout
    editor(tmp_path, monkeypatch, "t = t.replace('lugs = 8', 'lugz = 8').replace('= 2200', '= \"much\"')")
    result = kept("build", "edit", "crawler")
    assert result.exit_code == 4
    for words in ("lugz", "landed_limit_usd", "as it was"):
        assert words in result.stderr
    (draft,) = tmp_path.glob("*draft*")
    assert str(draft) in result.stderr
    assert "lugz" in draft.read_text()
    assert kept("build", "show", "crawler", "--toml").stdout == before


def test_an_editor_that_fails_loses_nothing(kept, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    editor(tmp_path, monkeypatch, "p.write_text(t + '# mine')\nsys.exit(3)")
    result = kept("build", "edit", "crawler")
    assert result.exit_code == 1
    (draft,) = tmp_path.glob("*draft*")
    assert str(draft) in result.stderr
    assert draft.read_text().endswith("# mine")


def test_editing_what_is_not_kept_names_the_near_one(kept) -> None:
    result = kept("build", "edit", "crawlr")
    assert result.exit_code == 5
    assert "crawler" in result.stderr


def said(*lines: str) -> str:
    """Answers to the questions of ``build new``, in order; the rest is skipped."""
    return "\n".join([*lines, *["skip"] * 20]) + "\n"


def test_build_new_writes_a_build_that_can_be_read(run, tmp_path: Path) -> None:
    file = tmp_path / "new.toml"
    result = run("build", "new", str(file), text=said("my truck", "", "37x12.50R17", "?", "", "left", "driver", "8"))
    assert result.exit_code == 0, result.stderr
    assert "the rim of 37x12.50R17" in result.stderr, "the default says why"
    assert "there are driver, passenger, center" in result.stderr
    assert "Brakes that do not go inside" in result.stderr, "? explains"
    found = json.loads(run("build", "show", str(file), "--json").stdout)
    assert found == {
        "name": "my truck",
        "wants": ["front"],
        "vehicle": {"tires": "37x12.50R17", "wheel_dia_in": 17, "front_output": "driver"},
        "front": {"must": {"lugs": 8}},
    }


def test_build_new_names_the_file_after_the_build(run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert run("build", "new", text=said("skip", "My ../Truck", "rear")).exit_code == 0
    assert [file.name for file in tmp_path.iterdir()] == ["my-truck.toml"]


@pytest.mark.parametrize("answer", ["n", "", None])
def test_build_new_never_overwrites_unasked(run, tmp_path: Path, answer: str | None) -> None:
    file = tmp_path / "new.toml"
    file.write_text("mine")
    result = run("build", "new", str(file), text=None if answer is None else f"{answer}\n")
    assert result.exit_code == 1
    assert file.read_text() == "mine"


def test_build_new_overwrites_when_told(run, tmp_path: Path) -> None:
    file = tmp_path / "new.toml"
    file.write_text("mine")
    assert run("build", "new", str(file), text="y\n" + said("x", "rear")).exit_code == 0
    assert 'wants = ["rear"]' in file.read_text()


def test_an_interview_broken_off_writes_nothing(run, tmp_path: Path) -> None:
    file = tmp_path / "new.toml"
    result = run("build", "new", str(file), text="x\nfront\n37x12.50R17\n")
    assert result.exit_code == 1
    assert not file.exists()


def test_ctrl_c_writes_nothing(run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def pressed(*args: object, **kwargs: object) -> str:
        raise KeyboardInterrupt

    monkeypatch.setattr("click.prompt", pressed)
    file = tmp_path / "new.toml"
    assert run("build", "new", str(file), text="").exit_code == 1
    assert not file.exists()


def test_build_new_into_a_folder_that_is_not_there(run, tmp_path: Path) -> None:
    for place in (tmp_path, tmp_path / "nowhere" / "new.toml"):
        result = run("build", "new", str(place), text=said("x"))
        assert result.exit_code == 3
        assert "folder" in result.stderr
