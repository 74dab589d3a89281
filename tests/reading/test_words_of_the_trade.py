"""What sellers call things: each value of a field in plain words, abbreviations, slips, Spanish and French.

The meanings are common practice of the trade; what each word gives follows the labelling rules of the accuracy sets.
"""

from collections.abc import Callable
from typing import Any

import pytest

First = Callable[[str], dict[str, Any]]

SAID = """
rear_wheels = dual
    the two tires each side |
    two wheels on each side | 2 tires per side | twin wheels | the wheels of back are twin | four wheels in back |
    double tires | rodado doble | roues jumelées | dual rr whl | dooley
rear_wheels = single
    one wheel each side | 1 tire per side | sngl rear whl | simple wheels | wheels: single | ruedas sencillas |
    roues arrière simples | s.r.w. | never a dually
load_class = half-ton
    haf ton | 1/2 tn | 0.5 ton | demi-tonne | media tonelada | half a ton truck
load_class = three-quarter-ton
    3/4t | .75 ton | 3 qtr ton | three fourths ton | tres cuartos | 3/4 tonne
load_class = one-ton
    1T | 1 tn | tons: 1 | 1.0 ton | one tonner | una tonelada
load_class = over-one-ton
    1-1/4 ton | 5/4 ton | 2.5t | 2 and a half ton | deuce and a half | ton and a quarter | class 5 | 3 ton
float = full
    f.f. | FF | hub sticks out through the wheel | shafts bolt to the hub | full flote | flotante completo |
    pont flottant
float = semi
    semi | s/f | small 14 bolt | not a floater | c-clip type | semi flot | demi flottant
knuckle = kingpin
    k/p | kpin | king ping | four bolt cap on top | perno maestro | à pivots
knuckle = ball-joint
    b joints | balljnts | ball jts | de rotula | joint à rotule | ball-jointed
knuckle = closed
    round balls at the ends | enclosed knuckles | can't see the joint | nudillos cerrados | fusées fermées
differential = limited-slip
    posy | ltd. slip | lim slip | l.s.d. | clutch type | both wheels spin the same way | autobloqueante |
    glissement limité
differential = open
    opn | peg-leg | plain diff | one tire fire | only one wheel spins | diferencial estándar | ouvert
differential = selectable-locker
    electronic lock | cable locking diff | air-locked | locker on a switch | vacuum locker | bloqueo de aire |
    verrouillage électrique | elec. locker
differential = automatic-locker
    LNCHBX | ratcheting diff | auto locking diff | clicker locker | blocage automatique
differential = locker
    locking carrier | lock diff | lckr | diferencial bloqueado | verrouillé
differential = welded
    welded side gears | spiders welded up | poor man's spool | satélites soldados | soudé
differential = spool
    spoolt | full-spool | carrete
pinion = high
    pinion is the high one | hi-pin | rev-cut | pinion up top | pinion above center | piñon arriba | H/P
pinion = low
    pinion down low | lo-pin | NOT high pinion | std-cut | pignon en bas | L/P
brakes = disc
    dsc brakes | 4 whl discs | de disco | à disques | discks
brakes = drum
    drm brakes | hyd. drums | de tambores | à tambours
suspension = leaf
    leave springs | leaf sprgs | de hojas | ressort à lames
suspension = coil
    coil pockets | coil sprng | espirales | ressorts à boudin
suspension = link
    5 link | 4 bar | triangulated 4 link
abs = True
    antilock | reluctor ring | tone wheels
abs = False
    abs delete | non-antilock | pre-abs
caliper_pistons = 2
    dbl piston | twin-pot | doble pistón
splines = 35
    35 splne | 35 ct spline | spline ct 35
hubs = locking
    lockouts | lkouts | free wheeling hubs | l/o hubs | mazas de bloqueo
hubs = manual-locking
    man. hubs | hubs: man | hubs you turn with your fingers | locking hubs (twist) | selectable hubs by hand |
    dial hubs | lockouts (manual) | moyeux manuels
hubs = automatic-locking
    hubs lock by themselves | vacuum operated hubs | push button hubs | hubs are the auto kind | self-locking hubs
hubs = unit-bearing
    UB | hubs (unit) | unit brgs | wheel bearing units | sealed hubs | roulements scellés
hubs = drive-flange
    full time flanges | flanges instead of lockouts | drive slug | brides fixes
"""
"""A field and its value, then under it what sellers say for it."""


def _cases() -> list[tuple[str, str, str]]:
    cases, head = [], ("", "")
    for line in SAID.strip().splitlines():
        if line.startswith(" "):
            cases += [(text.strip(), *head) for text in line.split("|") if text.strip()]
        else:
            name, _, value = line.partition(" = ")
            head = (name, value)
    return cases


@pytest.mark.parametrize(("text", "name", "value"), _cases())
def test_said(first: First, text: str, name: str, value: str) -> None:
    assert str(first(f"2005 axle, {text}, 4.10").get(name)) == value


UNSAID = [
    ("with the other wheel locked", "differential"), ("parking brake shoes worn", "brakes"), ("spring pads welded on",
    "brakes"),
    ("has lifted 2-1/2 inches", "load_class"), ("3 and three quarter turns", "load_class"),
    ("off a semi truck", "float"), ("use a 3 ton jack", "load_class"), ("weighs 1 ton", "load_class"),
    ("moves 3 ton of hay", "load_class"), ("a 27 ton splitter", "load_class"), ("3/4 bolts", "load_class"),
    ("1/2 drive", "load_class"), ("two wheels stolen", "rear_wheels"), ("set of 2 wheels", "rear_wheels"),
    ("on one side", "rear_wheels"), ("6 wheels for sale", "rear_wheels"), ("a round of drinks", "knuckle"),
    ("ball park figure", "knuckle"), ("air compressor runs", "differential"), ("electric brakes", "differential"),
    ("unit of time", "hubs"), ("a man of my word", "hubs"), ("hand it over", "hubs"), ("pin is high", "pinion"),
    ("disco music", "brakes"), ("leave it here", "suspension"), ("open late", "differential"), ("standard shift",
    "pinion"),
]  # fmt: skip


PARTS = [
    ("caliper brkts", "caliper-bracket"), ("brackets for calipers", "caliper-bracket"), ("gear set 5.13",
    "ring-and-pinion"),
    ("5.13 gears for 8.8 w/ install kit", "ring-and-pinion"), ("flechas exteriores", "outer-shaft"), ("semiejes",
    "axle-shaft"),
    ("mordazas", "caliper"), ("porte-fusée", "knuckle"), ("bomba de frenos", "master-cylinder"), ("servofrein",
    "booster"),
    ("dshaft", "driveshaft"), ("wheel bearing & hub", "unit-bearing"), ("pinion flange", "yoke"), ("pan hard bar",
    "track-bar"),
    ("open carrier 4.10 and down", "carrier"), ("weld on perches", "spring-perch"), ("ujnts", "u-joint"), ("tirods",
    "tie-rod"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "part"), PARTS)
def test_parts(first: First, text: str, part: str) -> None:
    assert first(f"{text}, $50").get("part") == part


def test_calipers_beside_a_count_of_pistons_are_calipers(first: First) -> None:
    item = first("front axle 3.73, dual piston calipers incl.")
    assert (item["caliper_pistons"], item["brakes"], item["has"]) == (2, "disc", ["caliper"])


@pytest.mark.parametrize(("text", "name"), UNSAID)
def test_unsaid(first: First, text: str, name: str) -> None:
    assert name not in first(f"2005 rear axle, 8 lug. {text}")


NOT_SO = [
    ("not a full floater", "float", "semi"), ("isn't full float", "float", "semi"), ("no floater", "float", "semi"),
    ("NOT high pinion", "pinion", "low"), ("not a low pinion", "pinion", "high"), ("not a dually", "rear_wheels",
    "single"),
    ("drum... no, rear disc", "brakes", "disc"), ("disc, no drum", "brakes", "disc"), ("kingpin... no, ball joint",
    "knuckle", "ball-joint"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "name", "value"), NOT_SO)
def test_of_two_choices_what_is_not_the_one_is_the_other(first: First, text: str, name: str, value: str) -> None:
    assert first(f"rear axle 2005, {text}. 4.10").get(name) == value


HEARSAY = [
    ("the ad said 4.88, tag says 4.56", "ratio", 4.56), ("he was told 3.73 but it is 4.10", "ratio", 4.1),
    ("semi float says the guy. It is full float", "float", "full"), ("1990ish... title says 1991", "years", [1991,
    1991]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "name", "value"), HEARSAY)
def test_what_others_said_yields_to_what_the_seller_says(first: First, text: str, name: str, value: object) -> None:
    assert first(f"rear axle, 8 lug. {text}").get(name) == value
