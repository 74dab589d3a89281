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
    say(_let_in(end))
    if end.shut:
        columns = ("must", "asked", "shuts out", "not known", "made good", "alone keeps out", "and perhaps")
        show_table([_row(shut) for shut in end.shut], columns)
    for shut in end.shut:
        if shut.lets_in or shut.may_let_in:
            say(f"- {_dropped(shut)}")
    if end.uncounted:
        say(f"Only the axle itself can answer: {', '.join(r.subject for r in end.uncounted)}.")


def _let_in(end: "Admitted") -> str:
    """How many kinds meet every must, how many of them by work, and of how many a figure is not known."""
    work = f", {len(end.with_work)} of them by work that you plan or accept" if end.with_work else ""
    return (
        f"{len(end.meets)} of {end.of} meet every must{work}; of {len(end.not_known)} more a figure is not known, and "
        "they fail none. Counted as they left the factory."
    )


def _row(shut: "Shut") -> tuple[object, ...]:
    must = shut.requirement
    named = must.subject + (" (from the vehicle)" if must.computed else "")
    counts = (shut.shuts_out, shut.not_known, shut.cured, shut.lets_in, shut.may_let_in)
    return named, must.condition.words(), *counts


def _dropped(shut: "Shut") -> str:
    said = f"dropping {shut.requirement.subject} {shut.requirement.condition.words()} would let in"
    perhaps = f"{shut.may_let_in} of which a figure is not known"
    if not shut.lets_in:
        return f"{said} none for sure, and perhaps {perhaps}"
    more = f"{shut.lets_in} more variant{'' if shut.lets_in == 1 else 's'}"
    return f"{said} {more}, and perhaps {perhaps}" if shut.may_let_in else f"{said} {more}"
