"""``donorbase part``."""

import click

from donorbase.cli.lazy import LazyGroup

COMMANDS = {
    "add": ("donorbase.cli.part_add:add", "Put a pulled part on the shelf, and get the tag to paint on it."),
    "kinds": ("donorbase.cli.part_add:kinds", "List the kinds of parts."),
    "list": ("donorbase.cli.part_list:list_", "List parts by kind, side, place, state, family or build."),
    "show": ("donorbase.cli.part_list:show", "Show a part: what it is, where it lies, notes, photos, readings."),
    "history": ("donorbase.cli.part_list:history", "Show everything that happened to a part."),
    "move": ("donorbase.cli.part_moves:move", "It lies somewhere else now."),
    "note": ("donorbase.cli.part_moves:note", "Note anything of a part."),
    "photo": ("donorbase.cli.part_moves:photo", "Note the path of a photo."),
    "set": ("donorbase.cli.part_moves:set_", "Put right what is kept of a part."),
    "measure": ("donorbase.cli.part_measure:measure", "Keep what was measured on a part, and judge it by its limit."),
    "measures": ("donorbase.cli.part_measure:measures", "List what can be measured, and on which parts."),
    "fact": ("donorbase.cli.part_card:fact", "Keep what was measured of an axle: it counts in place of what was said."),
    "setup": ("donorbase.cli.part_card:setup", "Keep shims, backlash, preload, pattern and torques as measured."),
    "card": ("donorbase.cli.part_card:card", "Show an axle's card: said against measured, set-up, papers, return."),
    "return": ("donorbase.cli.part_card:return_", "Note until when a part may go back, and what to prove by then."),
    "paper": ("donorbase.cli.part_papers:paper", "Keep where a part comes from: seller, receipt, donor's number, day."),
    "bill": ("donorbase.cli.part_papers:bill", "Print a bill of sale to sign, for a purchase or a sale."),
    "advert": ("donorbase.cli.part_papers:advert", "Write an honest advert of a part that you sell."),
    "reserve": ("donorbase.cli.part_holds:reserve", "Promise a part to a build or a person."),
    "lend": ("donorbase.cli.part_holds:lend", "Lend a part."),
    "use": ("donorbase.cli.part_holds:use", "Fit a part to a build."),
    "sell": ("donorbase.cli.part_holds:sell", "Sell a part."),
    "scrap": ("donorbase.cli.part_holds:scrap", "Scrap a part."),
    "remove": ("donorbase.cli.part_holds:remove", "Take out a part that was added by mistake."),
    "release": ("donorbase.cli.part_holds:release", "Free a part: the promise is off, or it came back."),
    "fits": ("donorbase.cli.part_fits:fits", "Say onto which axles a part goes, which side, and why."),
    "matrix": ("donorbase.cli.part_fits:matrix", "Show all parts against all builds."),
    "needs": ("donorbase.cli.part_fits:needs", "Say what a build lacks, what the shelf covers, what is left to buy."),
    "wholes": ("donorbase.cli.part_fits:wholes", "Say which axles the shelf could be put together to, and what lacks."),
    "spares": ("donorbase.cli.part_upkeep:spares", "Say which spares to carry on a trip: what breaks, side, weight."),
    "care": ("donorbase.cli.part_upkeep:care", "Note that a lying part was turned, oiled, or its inhibitor renewed."),
    "due": ("donorbase.cli.part_upkeep:due", "List what is due: care of what lies here, days of return."),
    "money": ("donorbase.cli.part_money:money", "Show what each build cost in parts, and what is still to come."),
    "split": ("donorbase.cli.part_split:split", "Take an axle apart, its cost shared among its pieces."),
    "rejoin": ("donorbase.cli.part_split:rejoin", "Take a split back."),
    "assemble": ("donorbase.cli.part_split:assemble", "Put pieces together to an axle."),
    "apart": ("donorbase.cli.part_split:apart", "Take an assembly back."),
    "export": ("donorbase.cli.part_files:export", "Print the whole shelf as JSON, with all that happened."),
    "import": ("donorbase.cli.part_files:import_", "Keep the parts of an exported shelf."),
    "undo": ("donorbase.cli.part_moves:undo", "Take back the newest change."),
}


@click.group(cls=LazyGroup, lazy=COMMANDS, epilog="\b\nExample:\n    donorbase part list --state shelf")
def part() -> None:
    """Keep the shelf of pulled parts. Each change is kept with its day and who made it, and can be undone."""
