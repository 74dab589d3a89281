"""``donorbase words``."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from donorbase.cli.forms import csv_form, json_form
from donorbase.cli.proposed import Known
from donorbase.cli.told import build_option

if TYPE_CHECKING:
    from donorbase.services.learning import Proposal
    from donorbase.services.words import Taught


@click.group(epilog='\b\nExample:\n    donorbase words add "drayman 35" "donor_line=line-A; load_class=one-ton"')
def words() -> None:
    """Teach the words that sellers near you use.

    The catalogue names no makers. Fill in once what people nearby call each donor line and family
    (`donorbase words sheet`), and listings are read, identified and judged by those words too.
    """


@words.command(epilog='\b\nExample:\n    donorbase words add "drayman 35" "donor_line=line-A; load_class=one-ton"')
@click.argument("phrase")
@click.argument("meaning")
@click.option("--note", default="", help="Why, or where you heard it.")
@json_form
@click.pass_obj
def add(database: str | None, phrase: str, meaning: str, note: str) -> None:
    """Teach a phrase and its meaning.

    A meaning is one or more name=value parted by semicolons: a donor line (donor_line=line-A), a load class with
    it, a family (family=rear-10.50-fourteen-bolt), a variant (variant=...), or any attribute's value.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.words import add_word

    taught = add_word(open_house(database), phrase, meaning, note)
    done(taught.as_json())
    _say_taught(taught)


@words.command("list", epilog="\b\nExample:\n    donorbase words list")
@click.argument("part", default="")
@click.option("--all", "everything", is_flag=True, help="The shipped words too.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def list_(database: str | None, part: str, everything: bool, as_json: bool) -> None:
    """List the words you taught, or those that hold PART."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_json, show_table
    from donorbase.services.words import list_words, word_json

    rows = [word_json(w) for w in list_words(open_house(database), part, "all" if everything else "user")]
    if as_json:
        show_json(rows)
    else:
        none = "You taught no such word. `donorbase words sheet` writes a sheet to fill in."
        show_table([list(row.values()) for row in rows], ("phrase", "meaning", "origin", "note"), none)


@words.command(epilog='\b\nExample:\n    donorbase words remove "drayman 35"')
@click.argument("phrase", type=Known("own words"))
@json_form
@click.pass_obj
def remove(database: str | None, phrase: str) -> None:
    """Forget a word that you taught, or that you refused to have it learned."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.errors import NotFound
    from donorbase.services.learning import lift_refusal
    from donorbase.services.words import remove_word

    house = open_house(database)
    try:
        done({"forgotten": phrase}, f"Forgot {remove_word(house, phrase).phrase!r}.")
    except NotFound:
        if not lift_refusal(house, phrase):
            raise
        done({"may_be_proposed": phrase}, f"{phrase!r} may be proposed again.")


@words.command(epilog="\b\nExample:\n    donorbase words learn")
@click.argument("meaning", default="")
@click.option("--accept", metavar="PHRASE", help="Teach a proposed phrase; name its MEANING where there are several.")
@click.option("--refuse", metavar="PHRASE", help="Never propose a phrase again.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def learn(database: str | None, meaning: str, accept: str | None, refuse: str | None, as_json: bool) -> None:
    """Show phrases that go with what you put right (`donorbase read --correct`) more than chance allows.

    Nothing is taught before you accept it, and `donorbase words remove` takes it back. The counts are of listings,
    those in which the meaning is true / those in which it is not.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json, tell
    from donorbase.services import learning

    if (accept and refuse) or (meaning and not accept):
        raise click.UsageError("Give --accept PHRASE [MEANING], or --refuse PHRASE, or neither.")
    house = open_house(database)
    desk = open_desk(house)
    if accept:
        taught = learning.accept(house, desk, accept, meaning)
        show_json(taught.as_json()) if as_json else _say_taught(taught)
    elif refuse:
        refused = learning.refuse(house, desk, refuse)
        show_json({"refused": refused}) if as_json else tell(f"{refused!r} will not be proposed again.")
    else:
        found = learning.proposals(house, desk)
        show_json([one.as_json() for one in found]) if as_json else _show_proposals(found)


@words.command("import", epilog="\b\nExample:\n    donorbase words import sheet.csv")
@click.argument("file", type=click.Path(path_type=Path))
@json_form
@click.pass_obj
def import_(database: str | None, file: Path) -> None:
    """Teach every word of a CSV: an export, or the sheet filled in. All of it or, where a row is faulty, none."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import done
    from donorbase.services.words import import_words

    taught = import_words(open_house(database), file)
    for one in taught:
        _say_taught(one)
    done([one.as_json() for one in taught], f"{len(taught)} words taught.")


@words.command(epilog="\b\nExample:\n    donorbase words export > mywords.csv")
@click.pass_obj
def export(database: str | None) -> None:
    """Print the words you taught as CSV."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_file
    from donorbase.services.words import export_words

    show_file(export_words(open_house(database)))


@words.command(epilog="\b\nExample:\n    donorbase words sheet > sheet.csv")
@click.pass_obj
def sheet(database: str | None) -> None:
    """Print a CSV sheet of every donor line and family, to fill in what people near you call them."""
    from donorbase.cli.context import open_house
    from donorbase.cli.output import show_file
    from donorbase.services.words import sheet as sheet_of

    show_file(sheet_of(open_house(database)))


@words.command("search", epilog="\b\nExample:\n    donorbase words search --build crawler")
@build_option(name="name", required=True)
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@csv_form
@click.pass_obj
def search(database: str | None, name: str, as_json: bool) -> None:
    """Show what to type into whatever you search: right, misspelt, other, your own and foreign words for it.

    Misspelt adverts are seen by fewer buyers.
    """
    from donorbase.cli.context import open_house
    from donorbase.cli.output import heading, say, show_json, show_table
    from donorbase.services.builds import find_build
    from donorbase.services.search_words import search_words

    house = open_house(database)
    build = find_build(house, name)
    found = {end: search_words(house, build, end) for end in build.wants}
    if as_json:
        show_json({end: [one.as_json() for one in listed] for end, listed in found.items()})
        return
    for end, listed in found.items():
        heading(end.capitalize())
        parts = [(one.right, one.misspelt, one.other, one.local, one.foreign) for one in listed]
        rows = [(one.wanted, *(", ".join(p) for p in part)) for one, part in zip(listed, parts, strict=True)]
        show_table(rows, ("wanted", "right", "misspelt", "other", "your own", "Spanish, French"))
        say()


def _show_proposals(found: Sequence["Proposal"]) -> None:
    from donorbase.cli.output import say, show_table

    rows = [
        (
            p.phrase,
            p.meaning,
            f"{p.with_true} / {p.with_other}",
            f"{p.without_true} / {p.without_other}",
            f"{p.g2:.1f}",
        )
        for p in found
    ]
    none = "No phrase goes with what you put right more than chance allows. `donorbase read --correct` keeps more."
    show_table(rows, ("phrase", "meaning", "with it", "without it", "G2"), none)
    if found:
        say('`donorbase words learn --accept "PHRASE"` teaches one; --refuse never shows it again.')


def _say_taught(taught: "Taught") -> None:
    from donorbase.cli.output import say
    from donorbase.services.words import word_json

    word = word_json(taught.word)
    say(f"{word['phrase']!r} now means {word['meaning']}")
    if taught.replaced:
        say(f"It replaces your earlier meaning: {word_json(taught.replaced)['meaning']}", 2)
    for shadowed in taught.shadows:
        say(f"It stands before the shipped meaning: {word_json(shadowed)['meaning']}", 2)
    if taught.ordinary:
        say("It is an everyday word too: it will be read so wherever it stands.", 2)
