"""Adverts of axles that meet a build, with one sentence in words that nobody would have listed.

Of trouble none may fit; of what is harmless most still must. Invented; what the words mean is common practice.
"""

from typing import Any

import pytest

from donorbase.services.desk import Desk
from donorbase.verdict.build import parse_build
from donorbase.verdict.judge import judge
from donorbase.verdict.spec import Build
from donorbase.verdict.verdicts import Call

DESK = Desk.as_shipped(2026)
FRONT: dict[str, Any] = {
    "name": "front on 37s", "wants": ["front"], "vehicle": {"tire_dia_in": 37, "master_cylinder": "enlarged"},
    "front": {"must": {
        "drop": "driver", "lugs": 8, "bolt_circle_mm": 170.0, "outer_splines": {"at_least": 35},
        "rear_wheels": "single", "ratio_sold": 4.3, "defects": {"none_of": ["bent", "cracked"]},
    }},
    "work": {"planned": ["regear", "bearings-and-seals", "ball-joints"], "accepted": ["buy-missing-parts"]},
    "money": {"landed_limit_usd": 2200},
}  # fmt: skip
REAR: dict[str, Any] = {
    "name": "rear on 35s", "wants": ["rear"],
    "rear": {"must": {
        "float": "full", "lugs": 8, "bolt_circle_mm": 165.1, "ratio": 4.1, "rear_wheels": "single",
        "defects": {"none_of": ["bent", "cracked"]},
    }},
    "work": {"planned": ["bearings-and-seals", "brake-rebuild"]},
    "money": {"landed_limit_usd": 600},
}  # fmt: skip
ADVERTS = [
    (parse_build(FRONT), "2011 one ton front axle, coil springs, single rear wheels, 8x170, ball joints, 3.73, whole "
     "hub to hub. {} $850, Osker."),
    (parse_build(REAR), "1994 one ton 14 bolt rear, full float, 10.5, 8x6.5, single wheel, drums, 4.10. {} $275."),
]  # fmt: skip
FITTING = (Call.FITS, Call.WITH_WORK)
MOST = 0.95
"""Of the harmless sentences at least so many must not hold an axle back."""

TROUBLE = [
    "Left tube opened up like a can where the perch was.",
    "Housing moved when they welded the truss on.",
    "Truck walks to the left now, that is why we swapped it.",
    "Ring gear lets out a shriek above forty.",
    "One of the Cs isn't where the factory put it.",
    "Spits oil out the breather whenever it gets warm.",
    "The short side lays down a bit compared to the other.",
    "You can see daylight between the tube and the center.",
    "It had a disagreement with a boulder and the boulder won.",
    "Passenger wheel leans in at the top no matter what you do.",
    "Kids drove it with no fluid for a summer.",
    "There's a hole in the bottom big enough for a thumb.",
    "Pinion yoke moves up and down about a quarter inch.",
    "When you turn it by hand it hangs up once a revolution.",
    "The plug welds let go on one side.",
    "Tube slid in about half an inch.",
    "Came out looking like a banana after the jump.",
    "Teeth on the ring look like a shark's mouth.",
    "Glitter in the oil, make of it what you will.",
    "Something let go inside last fall, never opened it.",
    "Drain plug had chunks on it.",
    "Eats an outer u joint every month.",
    "Got a nice smile in the driver tube.",
    "Not true anymore according to the alignment shop.",
    "Cap on the driver side is from another housing.",
    "It sat under three feet of mud since the spring.",
    "Somebody had a torch at the knuckles.",
    "The center section has a zipper down it.",
    "Threads for two of the carrier caps are pulled out.",
    "Spindle nut welded on, don't ask me why.",
    "It will need to see a frame guy.",
    "Brought home with a tow strap after it quit driving.",
    "Rear of the housing met a rock and gave in.",
    "Snout is ground away where the seal rides.",
    "The tube turned in the pumpkin.",
    "Bearing welded itself to the spindle.",
    "Alignment guy said he can't get caster in on one side.",
    "Guy before me stuck weld it back together after it parted.",
    "Knuckle ear broke so it's held with a bolt and prayers.",
    "Pumps gear oil into the brakes on hard turns.",
    "Left side came back from the wash with a crease in it.",
    "Sounds like a coffee grinder on the overrun.",
    "One wheel sits further back than the other.",
    "It tried to climb a fire hydrant.",
    "Gear oil came out looking like a milkshake.",
    "You'll hear it before you see it.",
    "The tube is more of a suggestion at this point.",
    "Inner end has a gash you can put a finger in.",
    "Threw the third gear... no wait, threw a ring gear bolt through the cover.",
    "Been carrying a limp since the last jump.",
    "Pinion has about as much play as a puppy.",
    "It's seen the underside of a bridge.",
    "They heated it to get the knuckle off and it never went back the same.",
    "The perch sank into the tube.",
    "Cover won't seal because the face is dished.",
    "Tube and center part ways when you jack it.",
    "Bottom of the pumpkin is thin as paper from dragging.",
    "Two carrier bolts sheared off in the hole.",
    "Has a few extra bends the factory didn't ask for.",
    "Smokes on the highway.",
    "Only turns left.",
    "Locks up when it is cold.",
    "A bear trap makes less noise.",
    "Spider pin wandered out and took a bite of the housing.",
    "Ears on the knuckle are peeled back.",
    "The splines have a quarter turn in them.",
    "My nephew learned welding on this housing.",
    "Ball sockets pulled through the C.",
    "Drove it home on three wheels after that side let loose.",
    "Lower arm mount tore a patch out of the tube.",
    "I would not trust it at speed.",
    "It needs a good home and a good welder.",
    "Rust got the best of the tube bottoms.",
    "Inspector failed it and I don't know what for.",
    "Was towed in gear for two hundred miles.",
    "Shop wanted more to fix it than it's worth.",
    "The seal ran in sand and cut itself a groove.",
    "Came out of the truck that folded on the pass.",
    "The long tube has a patch plate that was there when I bought the truck.",
    "That tube got plated before my time on the truck.",
    "The housing had a baby, there's two pieces now.",
    "Sat as an anchor for our dock.",
    "The left end points at the ground a little.",
    "Previous guy got creative with a hammer and the Cs.",
    "Needs convincing to roll.",
    "I get a thunk from it on every shift.",
    "The long tube has been on a diet of road salt.",
    "Had an incident with a loading dock.",
    "The pinion has been eaten by something.",
    "It shed a tooth in my driveway.",
    "Somebody drilled through the tube for a brake line and missed.",
    "Passenger flange is warm to the touch after a mile, too warm.",
    "Gears have an odd taper to the pattern and a whistle.",
    "A seam runs down the back of the center casting that wasn't there before.",
    "It's been through a fence post or two.",
    "Tube got flattened where the jack slipped.",
    "Axle housing now has more curve than my ex.",
    "Left knuckle flops around.",
    "Pulled from a truck that went off the pass.",
    "The last owner never believed in oil changes or oil.",
    "Has the wrong caps on it, they don't line up.",
    "You could fit a nickel in the crack of that weld.",
]

HARMLESS = [
    "My dog sleeps on it.",
    "Wife wants the garage back.",
    "Been spoiled, kept inside with a blanket over it.",
    "The truck rusted away around it but the axle was powder coated.",
    "Comes with a free pallet.",
    "I broke my back lifting it so bring friends.",
    "Bent my loading ramp getting it in, it is that heavy.",
    "The cab was smashed by a barn door, axle never knew.",
    "Killer deal, priced to move.",
    "Neighbor complains about the pile so it has to go.",
    "Text me a good time, work nights.",
    "Painted it black with a rattle can.",
    "I cracked the cover open to look and shut it again, all pretty in there.",
    "Tow truck driver dropped me off and left it, long story.",
    "Lost interest, bought a boat.",
    "Spun the wheels by hand last night and they coast for ages.",
    "Will trade for a welder or a decent smoker.",
    "It won't bite.",
    "Everything turns like butter.",
    "Crazy heavy, two guys and a skid steer.",
    "Engine blew so the rest of the truck is toast.",
    "Transfer case was shot which is why the truck is parted.",
    "Divorce sale.",
    "Grease is fresh, I did that in May.",
    "You'll need a bigger truck than mine, I got stuck with it.",
    "Don't lowball me, I know what I got.",
    "Ran great when parked, as they say.",
    "Sorry for the bad pictures, my phone screen is cracked.",
    "The tires on it are worn out rollers, you can have them.",
    "Been a shop mascot for two years.",
    "Not a basket case like the other one down the road.",
    "Used to hold up my workbench.",
    "No stories.",
    "Only thing it ever hurt was my toe.",
    "Came off the highway department's spare truck.",
    "Bolts all came loose without heat, dry country truck.",
    "Has stickers on it from a parade.",
    "Shafts still have the factory paint marks.",
    "Ask for Dot, she's on the forklift.",
    "If the ad is up I still have it.",
    "Cleaned it with a toothbrush, no kidding.",
    "My grandson can show you, he works Saturdays.",
    "Hubs spin so free you could charge a phone.",
    "The housing wears a fresh coat of black.",
    "I have coffee on.",
    "Gears have a lovely even pattern.",
    "First come first served.",
    "Not giving it away.",
    "No tire kickers please.",
    "Tubes are as smooth as the day they left the mill.",
    "The truck went to the crusher last week.",
    "Moving to the coast, no room for it.",
    "It's heavier than my mother in law.",
    "Ring gear looks brand new, you could shave in it.",
    "There is a dent in the fender of the truck but that is gone.",
    "Knuckles have zerks and take grease.",
    "Kids painted it pink once, I painted it back.",
    "Parked since the engine quit.",
    "Pulled it myself with a buddy over a weekend.",
    "Axle lives under a tarp beside the chicken coop.",
    "Ask my wife if I am out.",
    "Shafts slid right out for inspection.",
    "I was going to put it under my rig but went another way.",
    "A steal at this price.",
    "Bearings were packed in March.",
    "Never towed, never plowed.",
    "The frame under it was rotten, the axle is not.",
    "Cash, no checks.",
    "Center section wears the original tag.",
    "Been on the ground exactly once.",
    "Brakes squeak less than my knees.",
    "Will hold a week for a handshake.",
    "Seals were done, dry as a bone.",
    "I know it is far, that is why it is cheap.",
    "Every nut has been chased and oiled.",
    "Hauled hay and church folks.",
    "Grandpa bought the truck new.",
    "Two year old tires available separately.",
    "Yoke takes the common strap joint.",
    "Photos on request, number below.",
    "Comes from a smoke free garage.",
    "It has pulled more boats than I can count and never complained.",
    "Ball joints have grease fittings.",
    "Rotors have that brown film from the rain, wipes off.",
    "The yoke still has its straps and bolts.",
    "Knuckles are bagged so the machined faces stay clean.",
    "Hub caps not included.",
    "Diff cover has been repainted in tractor orange.",
    "Gears mesh nice with a crisp coast pattern.",
    "All the bolts are in a coffee can.",
    "Housing has the factory build number on the long side.",
    "It's sitting on two sawhorses in the garage.",
    "Axle was the spare for our rally team and never got used.",
    "Pictures show the spline ends, taped and oiled.",
    "Tubes have a light coat of cosmoline.",
    "Spindles mike out within spec.",
    "The seals were replaced by the dealer under recall.",
    "Trailer hitch sold, axle still here.",
    "We also do gear setup if you want it done before you haul it.",
    "Moved it with an engine hoist, no trouble.",
]


def call_of(build: Build, advert: str, sentence: str) -> Call:
    return judge(build, DESK.read(advert.format(sentence)), DESK.catalogue, distance_mi=20).verdict


@pytest.mark.parametrize(("build", "advert"), ADVERTS, ids=["front", "rear"])
def test_the_adverts_fit_without_it(build: Build, advert: str) -> None:
    assert call_of(build, advert, "") is Call.FITS


@pytest.mark.parametrize(("build", "advert"), ADVERTS, ids=["front", "rear"])
@pytest.mark.parametrize("sentence", TROUBLE)
def test_no_axle_fits_of_which_trouble_is_told(build: Build, advert: str, sentence: str) -> None:
    assert call_of(build, advert, sentence) not in FITTING


@pytest.mark.parametrize(("build", "advert"), ADVERTS, ids=["front", "rear"])
def test_what_is_harmless_holds_hardly_any_back(build: Build, advert: str) -> None:
    held = [sentence for sentence in HARMLESS if call_of(build, advert, sentence) not in FITTING]
    assert len(held) <= (1 - MOST) * len(HARMLESS), held
