"""A house in which everything happened that fills a table of the user's."""

from datetime import UTC, date, datetime

from donorbase.facts import Fact, Item
from donorbase.services.builds import add_build
from donorbase.services.candidates import candidates
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion, move, undo
from donorbase.services.joining import join
from donorbase.services.keeping import Keeper, Seen
from donorbase.services.learning import record_corrections
from donorbase.services.ledger import record_claims, set_prior
from donorbase.services.measuring import measure_part
from donorbase.services.promising import Taking, release, take
from donorbase.services.pulling import Pulled, pull
from donorbase.services.rejudging import judge_due
from donorbase.services.splitting import assemble, split_part
from donorbase.services.tending import move_part, undo_part
from donorbase.services.words import add_word
from donorbase.services.yards import keep_list, read_list
from donorbase.shipped import data_dir
from donorbase.store.corrections import refuse_phrase

WHEN = Occasion(date(2026, 11, 9), "Zoë", "=1+1, ünïcode \N{SNOWMAN}")
KINGPIN = "front-9.75-kingpin/b-1977-1991-srw"
TEXTS = [
    "Front axle off a 2008 line-A one ton, coil, ball joint, SRW, 8x170, 3.73, driver side. $900 obo, call 555-0101",
    "Still here! Front axle off a 2008 line-A one ton, coil, ball joint, SRW, 8x170, 3.73, driver side. $750, 555-0101",
    "Rear axle, 14 bolt, full float, 4.10, discs, 8 lug, $450",
    "Front axle, kingpin, 35 spline outers, 8 lug, « très bon état », $850",
]


def live_in(house: House) -> None:
    """Fill every table of the user's, with rows that speak of one another to and fro."""
    for name in ("crawler", "trail-wagon"):
        add_build(house, data_dir() / "demo" / f"{name}.toml")
    add_word(house, "grazier 35", "donor_line=line-A")
    set_prior(house, "front-9.75-*", 2.5)
    record_claims(house, "barn", Item((Fact("kind", "axle"), Fact("lugs", 8))), {"lugs": 6})
    desk = Desk.of_house(house, 2026)
    keeper = Keeper(house, desk, ("crawler", "trail-wagon"), "Zoë")
    for number, text in enumerate(TEXTS):
        keeper.keep([Seen(text, date(2026, 11, number + 1), distance_mi=12.5, zip="00501")])
    record_corrections(house, desk.read(TEXTS[2]), 1, ["lugs=6"])
    with house.writing() as connection:
        refuse_phrase(connection, "kelpwagon", datetime(2026, 11, 9, tzinfo=UTC))
    _hunt(house, desk)
    board = "Row 12\n 2006 Tolvern Grazier 35 4x4 set 10/28/2026\n"
    keep_list(house, "river", read_list(board, "board"), date(2026, 11, 1))
    _shelve(house)


def _hunt(house: House, desk: Desk) -> None:
    judge_due(house, desk)
    first, *_, last = (one.id for one in candidates(house) if one.build == "crawler")
    move(house, [first], "asked", WHEN)
    undo(house, first, WHEN)
    # The later one is the one that is kept: it is spoken of before it is there.
    join(house, last, first, WHEN)


def _shelve(house: House) -> None:
    whole = pull(house, Pulled("axle", axle=KINGPIN, year=1985, miles=9, place="yard", cost_cents=65_001), WHEN)
    pieces = split_part(house, whole.tag, WHEN, asked=["rotor", "rotor", "knuckle:left"]).pieces
    measure_part(house, pieces[0].tag, "rotor-thickness", "1.47in", WHEN, instrument="micrometer", cast="1.465in")
    take(house, pieces[0].tag, Taking("reserved", person="Kim"), WHEN)
    release(house, pieces[0].tag, WHEN)
    move_part(house, pieces[1].tag, "loft", WHEN)
    undo_part(house, pieces[1].tag, WHEN)
    assemble(house, KINGPIN, [pieces[1].tag, pieces[2].tag], WHEN)
