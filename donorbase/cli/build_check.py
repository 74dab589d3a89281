"""What ``donorbase build check`` prints."""

from typing import TYPE_CHECKING

from donorbase.cli.output import heading, say, show_table

if TYPE_CHECKING:
    from donorbase.services.admits import Admitted, Shut
    from donorbase.services.openings import LookedOver


def show_looked_over(looked: "LookedOver") -> None:
    """Print contradictions, openings, and each end against the catalogue."""
    heading("Speaks against itself or the catalogue")
    for line in looked.contradictions:
        say(f"- {line}")
    if not looked.contradictions:
        say("Nothing.")
    say()
    heading("Left open (figures are examples: write your own)")
    for opening in looked.openings:
        say(f"- {opening.what}: {opening.why}. Under [{opening.table}]: {opening.line}")
    if not looked.openings:
        say("Nothing.")
    for end in looked.ends:
        _show_end(end)


def _show_end(end: "Admitted") -> None:
    say()
    heading(f"The {end.end}s of the catalogue against the musts")
    say(
        f"{len(end.meets)} of {end.of} meet every must; of {len(end.not_known)} more a figure is not known, and "
        "they fail none. Counted as they left the factory, before any work of yours."
    )
    if end.shut:
        columns = ("must", "asked", "shuts out", "not known", "alone keeps out", "and perhaps")
        show_table([_row(shut) for shut in end.shut], columns)
    for shut in end.shut:
        if shut.lets_in or shut.may_let_in:
            say(f"- {_dropped(shut)}")


def _row(shut: "Shut") -> tuple[object, ...]:
    must = shut.requirement
    named = must.subject + (" (from the vehicle)" if must.computed else "")
    return named, must.condition.words(), shut.shuts_out, shut.not_known, shut.lets_in, shut.may_let_in


def _dropped(shut: "Shut") -> str:
    said = f"dropping {shut.requirement.subject} {shut.requirement.condition.words()} would let in"
    perhaps = f"{shut.may_let_in} of which a figure is not known"
    if not shut.lets_in:
        return f"{said} none for sure, and perhaps {perhaps}"
    more = f"{shut.lets_in} more variant{'' if shut.lets_in == 1 else 's'}"
    return f"{said} {more}, and perhaps {perhaps}" if shut.may_let_in else f"{said} {more}"
