"""What to say where a figure leads to work that can hurt somebody. Local codes and licensed practice come
first.
"""

BRAKES = (
    "Brakes are a system: have master cylinder, booster, lines, balance and parking brake inspected by a "
    "licensed professional before road use. First stops at walking speed. Old dust may hold asbestos: wet "
    "it, wipe, never blow."
)
WELDING = (
    "Housings and knuckles are safety-critical: a qualified welder, combustibles moved 35 ft away, housing "
    "drained, degreased and vented, a fire watch for half an hour after (29 CFR 1910.252 (a))."
)
LIFTING = (
    "Stands under fixed parts on firm ground, wheels chocked; a jack holds nothing up while somebody works "
    "under it (29 CFR 1910.244). A complete heavy axle weighs several hundred pounds: hoist or a second "
    "person."
)
TIE_DOWN = (
    "No cut or frayed straps (49 CFR 393.104); stay within the ratings of truck, hitch, tires and trailer. "
    "The rules of your State come first."
)
STEERING = (
    "Steering and driveline angles decide whether the truck can be held: have them inspected by a licensed "
    "professional before road use; many States inspect altered vehicles."
)
LAW = (
    "State rules on height, width, fenders, lamps and brakes differ: ask your State's inspection authority "
    "first. A repair business may not make safety equipment inoperative (49 U.S.C. 30122)."
)
SHAFT = (
    "A used shaft's past is unknown: these are steady pulls on a sound shaft, no promise of life. Stand "
    "clear of a shaft under load."
)
