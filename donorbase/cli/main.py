"""The root command, its options, and the one place where errors become words on stderr."""

import os
import sys
from types import TracebackType
from typing import Any

import click

from donorbase import __version__
from donorbase.cli.lazy import CONTACTS, LazyGroup
from donorbase.errors import DonorbaseError

COMMANDS = {
    "read": ("donorbase.cli.read:read", "Read a pasted listing: its facts, and the words that gave them."),
    "identify": ("donorbase.cli.identify:identify", "Say which axle it is from what was measured or seen."),
    "check": ("donorbase.cli.check:check", "Judge a pasted listing against a build."),
    "finish": ("donorbase.cli.finish:finish", "Bring several offers to the same finished state, costs side by side."),
    "build": ("donorbase.cli.build:build", "Keep builds: the vehicle, what it needs, the work, the money."),
    "candidate": ("donorbase.cli.candidate:candidate", "Keep listings for a build: watch, ask, visit, buy or pass."),
    "screen": (
        "donorbase.cli.screen:screen",
        "Judge any number of listings in files for a build.",
    ),
    "search": ("donorbase.cli.search:search", "Find kept listings by what you would say of them."),
    "shortlist": (
        "donorbase.cli.shortlist:shortlist",
        "Show a build's candidates, best first, and what is still open.",
    ),
    "pairs": ("donorbase.cli.pairs:pairs", "Show the best front and rear together, candidates and shelf."),
    "prices": ("donorbase.cli.prices:prices", "Show what comparable axles were asked or went for, by what you kept."),
    "trip": ("donorbase.cli.trip:trip", "Plan one drive past several candidates and yards."),
    "haul": ("donorbase.cli.haul:haul", "Say what axles weigh, and whether straps, truck and freight bear it."),
    "report": (
        "donorbase.cli.report:report",
        "Make a page of a build: shortlist, costs, pairs, open questions, shelf.",
    ),
    "serve": ("donorbase.cli.serve:serve", "Serve pages to paste into, for the browser of this computer."),
    "sheet": ("donorbase.cli.sheet:sheet", "Make the sheet for the yard: what to look at, where to put the tape."),
    "yard": ("donorbase.cli.yard:yard", "Keep yards' lists, and walk the rows that hold what a build needs."),
    "part": ("donorbase.cli.part:part", "Keep the shelf of pulled parts: where each lies, to whom it is promised."),
    "find": ("donorbase.cli.find:find", "Find axles of the catalogue by any attributes."),
    "show": ("donorbase.cli.show:show", "Show a family or variant, or two side by side."),
    "lookalikes": ("donorbase.cli.lookalikes:lookalikes", "Show what an axle is taken for, and what tells them apart."),
    "order": ("donorbase.cli.order:order", "Check an order of gears or a locker against the axle it is for."),
    "words": ("donorbase.cli.words:words", "Teach the words that sellers near you use."),
    "claims": ("donorbase.cli.claims:claims", "Keep what sellers said beside what you measured."),
    "priors": ("donorbase.cli.priors:priors", "Say how common each kind of axle is around you."),
    "calc": ("donorbase.cli.calc:calc", "Sums: gearing, tires, shafts, brakes, wheels, ratios and more."),
    "guide": ("donorbase.cli.guide:guide", "Walk through the whole job for the first time, step by step."),
    "demo": ("donorbase.cli.demo:demo", "See the whole job on invented listings, in a database of its own."),
    "completion": (
        "donorbase.cli.completion:completion",
        "Print the script that completes what you type, for your shell.",
    ),
    "man": ("donorbase.cli.man:man", "Print the manual page."),
    "db": ("donorbase.cli.db:db", "Look after the database: where it is, check, backup."),
}

EPILOG = """\b
Examples:
    donorbase check advert.txt --build crawler --distance-mi 40
    donorbase guide

\b
Exit codes: 0 done; 1 a fault of the program or Ctrl-C; 2 wrong usage; 3 input that cannot be used;
4 rows of data or of a file with faults; 5 not found; 6 the database cannot be used;
7 a part of the shelf is promised to another.
check --exit-code besides: 0 fits; 10 fits with work; 11 unclear; 12 does not fit."""


class Root(LazyGroup):
    """The root group: says errors plainly, without a traceback."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; an error of ours or of the file system leaves with its words and exit code."""
        try:
            return super().invoke(ctx)
        except DonorbaseError as error:
            _say(error.what, error.next_step)
            ctx.exit(error.exit_code)
        except click.UsageError as error:
            raise _with_example(error) from None
        except BrokenPipeError:
            raise
        except OSError as error:
            place = f"{error.filename}: " if error.filename else ""
            _say(f"{place}{error.strerror or error}", "Nothing was half-written; mend it and run again.")
            ctx.exit(6 if error.filename is None else 3)


def _with_example(error: click.UsageError) -> click.UsageError:
    """The same with an example of the command, and without signs that would repaint the terminal."""
    from donorbase.services.shown import shown

    lines = ((error.ctx.command.epilog or "") if error.ctx else "").splitlines()
    examples = [line.strip() for line in lines if line.strip().startswith("donorbase ")]
    such = f"\nSuch as: {examples[0]}" if examples else ""
    return click.UsageError(shown(error.format_message()).rstrip() + such, error.ctx)


def _say(what: str, next_step: str) -> None:
    from donorbase.cli.output import tell

    tell(f"donorbase: {what}", err=True)
    if next_step:
        tell(f"Next: {next_step}", err=True)


@click.command(
    cls=Root,
    lazy=COMMANDS,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog=EPILOG,
)
@click.version_option(__version__, prog_name="donorbase")
@click.option(
    "--db",
    "database",
    metavar="FILE|URL",
    envvar="DONORBASE_DB",
    show_envvar=True,
    help="The database to use instead of the one in your data folder.",
)
@click.option("--contacts", is_flag=True, help="Leave sellers' numbers and addresses in JSON, CSV and pages.")
@click.pass_context
def cli(ctx: click.Context, database: str | None, contacts: bool) -> None:
    """Used axles: read a listing, know the axle, judge it against your build.

    Most commands take an advert as a file, or pasted and ended with Ctrl-D. New to it: `donorbase guide`.
    """
    ctx.obj = database
    ctx.meta[CONTACTS] = contacts
    if os.environ.get("NO_COLOR"):
        ctx.color = False


def tell_fault(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
    """Print what went wrong inside the program, fit to be sent on: no contacts, nothing that steers a terminal."""
    from traceback import format_exception

    from donorbase.cli.output import tell
    from donorbase.services.contacts import without_contacts

    tell(without_contacts("".join(format_exception(kind, error, trace))), err=True)
    tell("This is a fault of the program. Nothing was half-written; what stands above tells where it is.", err=True)


def run() -> None:
    """Run the program; the entry point of the installed command."""
    sys.excepthook = tell_fault
    # A listing can hold any character; an old terminal's encoding must not end the program.
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    if "_DONORBASE_COMPLETE" in os.environ:
        # click knows our scripts once this is imported, which nothing but a press of Tab waits for.
        import donorbase.cli.shells  # noqa: F401
    cli(prog_name="donorbase")
