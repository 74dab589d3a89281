"""The dialogue of ``donorbase build new``."""

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from donorbase.errors import BadInput

if TYPE_CHECKING:
    from donorbase.services.interview import Question
    from donorbase.verdict.spec import Build

_WORK = ("planned", "accepted", "refused")


def interviewed(works: Mapping[str, str]) -> "Build":
    """The build that the answers make. ``works`` are the words of work with their titles.

    Ctrl-C or the end of the input ends it with click.Abort, and nothing is kept.
    """
    from donorbase.cli.output import tell
    from donorbase.services.interview import asked_of, build_of_answers

    tell("One thing at a time. Enter takes what is proposed, ? explains, skip leaves it open.", err=True)
    answers: dict[str, Any] = {}
    seen: set[str] = set()
    while left := [question for question in asked_of(answers) if question.key not in seen]:
        seen.add(left[0].key)
        answers = _asked(left[0], answers, works)
    return build_of_answers(answers, works)


def _asked(question: "Question", answers: dict[str, Any], works: Mapping[str, str]) -> dict[str, Any]:
    """The answers with that to one question, asked until it can be used or is skipped."""
    from donorbase.cli.output import tell
    from donorbase.services.interview import taken

    proposal = question.propose(answers)
    hint = f" [{proposal.text}]" if proposal else " [skip]"
    tell(err=True)
    while True:
        text = click.prompt(question.ask + hint, default="", show_default=False, err=True).strip()
        if text == "?":
            _explain(question, works)
            continue
        if not text and proposal:
            text = proposal.text
            tell(f"  {text}: {proposal.why}.", err=True)
        if text.casefold() in ("", "skip") and not question.needed:
            tell("  Left open.", err=True)
            return answers
        if text.casefold() == "skip":
            tell("  This one is needed.", err=True)
            continue
        try:
            return taken(question, text, answers, works)
        except BadInput as wrong:
            _say_wrong(wrong)


def _explain(question: "Question", works: Mapping[str, str]) -> None:
    from donorbase.cli.output import tell

    tell(f"  {question.explains}", err=True)
    if question.key in _WORK:
        for word, title in works.items():
            tell(f"    {word}: {title}", err=True)


def _say_wrong(wrong: BadInput) -> None:
    from donorbase.cli.output import tell

    # A fault of a build names its place first, which is nothing to somebody who types an answer.
    faults = getattr(wrong, "faults", ())
    said = [fault.split(": ", 2)[-1] for fault in faults] or [f"{wrong.what}. {wrong.next_step}".strip()]
    for line in dict.fromkeys(said):
        tell(f"  {line}", err=True)


def may_write(file: Path) -> bool:
    """Whether the file is to be written, asked where it is there already; BadInput where it cannot be."""
    if file.is_dir():
        raise BadInput(f"{file} is a folder", "Name a file, such as mybuild.toml.")
    if not file.parent.is_dir():
        raise BadInput(f"there is no folder {file.parent}", "Make it first, or name a file elsewhere.")
    return not file.exists() or click.confirm(f"{file} is there already. Write over it?", err=True)


def free_name(name: str) -> Path:
    """A file in the present folder called after a build: ``My truck`` is my-truck.toml."""
    plain = "-".join("".join(c if c.isalnum() else " " for c in name.casefold()).split())
    return Path(f"{plain or 'build'}.toml")
