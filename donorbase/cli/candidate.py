"""``donorbase candidate``."""

import click

from donorbase.cli.lazy import LazyGroup

COMMANDS = {
    "add": ("donorbase.cli.candidate_add:add", "Keep a pasted listing for a build, or for every build it may suit."),
    "import": ("donorbase.cli.candidate_import:import_", "Keep many listings: a folder, CSV, JSONL, a page, mails."),
    "list": ("donorbase.cli.candidate_list:list_", "List candidates with state, verdict and cost."),
    "show": ("donorbase.cli.candidate_list:show", "Show a candidate: listing, reading, verdict, prices."),
    "history": ("donorbase.cli.candidate_list:history", "Show everything that happened to a candidate."),
    "watching": ("donorbase.cli.candidate_moves:watching", "You watch it."),
    "asked": ("donorbase.cli.candidate_moves:asked", "You asked the seller."),
    "visiting": ("donorbase.cli.candidate_moves:visiting", "You are going to see it."),
    "bought": ("donorbase.cli.candidate_moves:bought", "You bought it."),
    "passed": ("donorbase.cli.candidate_moves:passed", "You let it pass."),
    "gone": ("donorbase.cli.candidate_moves:gone", "It is sold or taken off."),
    "note": ("donorbase.cli.candidate_moves:note", "Note what the seller said, or anything else."),
    "price": ("donorbase.cli.candidate_moves:price", "Note what is asked now."),
    "correct": ("donorbase.cli.candidate_moves:correct", "Put right what was read, or add what was found out."),
    "join": ("donorbase.cli.candidate_joins:join", "Say that two candidates are one axle, advertised twice."),
    "part": ("donorbase.cli.candidate_joins:part", "Take a text out of a candidate: it is of another axle."),
    "undo": ("donorbase.cli.candidate_moves:undo", "Take back the newest change."),
    "judge": ("donorbase.cli.candidate_judge:judge", "Judge anew what is due, and show what changed."),
}


@click.group(cls=LazyGroup, lazy=COMMANDS, epilog="\b\nExample:\n    donorbase candidate list --build crawler")
def candidate() -> None:
    """Keep listings for a build: watch, ask, visit, buy or pass. Each change is kept with its day and can be undone."""
