"""Synthetic adverts of used axles with known truth: which adverts are of one axle, and which only look like it.

How they are made:

- An axle has facts (end, year, ratio, studs, splines, side, brakes, miles ...). A seller has a town, a name, a
  telephone number, a way of writing (prose, fragments, capitals, bullets, lines of "label: value", bars) and two or
  three standing sentences that he puts into every advert. Facts are worded in one of several ways each. Between
  them stand sentences of two kinds: ones with slots (towns, names, days, numbers of hours, parts), and ones that
  occur in the labelled listings of tests/accuracy and state no fact.
- A repost is the same axle advertised again by one of seven changes in equal parts: price; telephone number; a
  third of the phrases moved and other separators; a tenth of the words changed (a slip of the finger, another word,
  left out, added); price, telephone, a phrase left out and a twentieth of the words changed; another town and
  telephone with a twentieth of the words changed; everything in capitals with half of the standing sentences left
  out. Digits are not mistyped: another figure is another claim.
- Hard negatives, never to be joined: (1) a seller's other axle, with his standing sentences, his town and telephone,
  and half of his own sentences taken over from his last advert; in one of three it is of the same kind and differs
  in a single fact; (2) another seller's axle of exactly the same kind, written from the same template of a yard's
  or site's software (the same standing words in the same order), or with all facts worded alike; only miles, stock
  number, town, price, telephone and what he says himself differ.
- About 15 % of the adverts are reposts, 20 % are negatives of the first kind, 20 % of the second.

Invented towns, names and telephone numbers (555-01xx) throughout.
"""

import json
import random
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from donorbase.facts import Reading
from donorbase.services.desk import Desk

LISTINGS = Path(__file__).parents[1] / "accuracy" / "listings"
SYLLABLES = [
    "bra",
    "cor",
    "dun",
    "el",
    "fen",
    "gar",
    "hol",
    "is",
    "jor",
    "kel",
    "lor",
    "mar",
    "nor",
    "os",
    "pel",
    "quin",
    "ros",
    "sal",
    "tor",
    "ul",
    "ven",
    "wyn",
    "yar",
    "zed",
    "ash",
    "bel",
]
ENDINGS = ["ton", "ville", "ford", "dale", "burg", "mere", "wick", "field", "haven", "port", "creek", "ridge"]
LETTERS = "abcdefghijklmnopqrstuvwxyz"


Facts = dict[str, Any]


@dataclass(frozen=True)
class Seller:
    """Who offers: how he writes, where, and what he says in every advert."""

    town: str
    name: str
    phone: str
    style: str
    standing: tuple[str, ...]


@dataclass(frozen=True)
class Advert:
    """One advert: its phrases in order, how they are joined, its price; ``axle`` and ``facts`` are the truth.

    ``own`` are the sentences that are the seller's own, but for his standing ones.
    """

    axle: int
    seller: Seller
    phrases: tuple[str, ...]
    joint: str
    price: int
    facts: Facts
    own: tuple[str, ...] = ()
    kind: str = "new"

    @property
    def text(self) -> str:
        """The advert as pasted."""
        body = self.joint.join(self.phrases).replace(
            "{price}", f"{self.price:,}" if self.price % 3 else str(self.price)
        )
        body = body.replace("{phone}", self.seller.phone).replace("{town}", self.seller.town)
        return body.upper() if self.seller.style == "capitals" else body


WORDINGS: dict[str, Callable[[Any], list[str]]] = {
    "position": lambda v: [f"{v} axle", f"{v} axle assembly", f"complete {v} axle", f"{v} end, complete", f"{v} axel"],
    "year": lambda v: [f"out of a {v}", f"from a {v} truck", f"{v} model", f"pulled from an {v % 100:02d}", f"off a {v} 4x4"],
    "ratio": lambda v: [f"{v:.2f} gears", f"{v:.2f} ratio", f"geared {v:.2f}", f"ratio {v:.2f}", f"{v:.2f} ring and pinion"],
    "bolt": lambda v: [f"8x{v}", f"8 lug {v} mm", f"8 on {v}", f"8 lug, {v}mm circle", f"bolt pattern 8x{v}"],
    "diff": lambda v: [f"{v} differential", f"{v} diff", f"it is {v}" if v == "open" else f"has a {v}", f"{v} carrier"],
    "drop": lambda v: [f"{v} side drop", f"{v} drop", f"diff on the {v} side", f"{v} side differential"],
    "outer": lambda v: [f"{v} spline outers", f"outers are {v} spline", f"{v} spline outer shafts", f"outer shafts {v} spline"],
    "wheels": lambda v: [f"{v} rear wheels", {"single": "SRW", "dual": "dually"}[v], {"single": "not a dually", "dual": "DRW truck"}[v]],
    "suspension": lambda v: [f"{v} springs", f"{v} sprung", f"{v} spring truck", f"set up for {v}s"],
    "brakes": lambda v: [f"{v} brakes", f"{v} brakes all there", f"with {v} brakes"],
    "miles": lambda v: [f"{v:,} miles", f"{v} miles on it", f"mileage {v:,}", f"{v // 1000}k miles", f"about {v // 1000}k on the clock"],
}  # fmt: skip
LABELS = {
    "position": "Position", "year": "Year", "ratio": "Ratio", "bolt": "Bolt pattern", "diff": "Diff", "drop": "Drop",
    "outer": "Outer splines", "wheels": "Rear wheels", "suspension": "Suspension", "brakes": "Brakes", "miles": "Mileage",
}  # fmt: skip
VALUES: dict[str, tuple[Any, ...]] = {
    "ratio": (3.31, 3.55, 3.73, 4.10, 4.30, 4.56, 4.88, 5.13),
    "bolt": (165.1, 170, 180, 200),
    "diff": ("open", "limited slip", "locker"),
    "drop": ("driver", "passenger"),
    "outer": (30, 35),
    "wheels": ("single", "dual"),
    "suspension": ("leaf", "coil"),
    "brakes": ("disc", "drum"),
}
SLOTTED = """
Was going under my {year} project but {name} talked me into something else
Pulled it last {month}, has been sitting in the {place} since
I got it from {name} over in {other} who was parting the truck out
Stored inside the {place} on a pallet
Can load with a {machine}, bring {number} straps
Located near {town}, about {number} minutes from the highway
Pick up in {town} only, weekends or after {number} pm
Truck was hit on the {side} side, axle never touched the {thing}
Drove {number} days before the {thing} let go
New {part} and {part} put in {month} by {name}
Missing the {part} and one {part}
Needs {part}, I have not got the time
Comes with the {part}, {part} and all the bolts in a coffee can
Sat next to the {place} for {number} winters
The {part} makes a little noise but turns free
{name} at the {place} pressed new {part} into it
Trade for a {machine} or {thing} considered
My {relative} had it under his {thing} for {number} years
Ran it {number} seasons in {other} without a problem
Tag says {letter}{letter}{number}{number}{number}, casting {number}{letter}{number}
Row {number}, space {number}, ask for {name}
Painted it {colour} over the {month} break
Also have a {colour} {thing} and a {machine} for sale
Sold my {thing} so this has to go by {month}
Ask {name} at the {place} if I do not answer
Got a flat deck, can bring it to {other} for {number} bucks fuel
The {colour} paint is from a can, there is no rust under it
Housing was never cut, brackets are cleaned up, {part} mounts still on
""".strip().splitlines()
SLOTS = {
    "month": [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ],
    "place": [
        "barn",
        "shop",
        "garage",
        "shed",
        "carport",
        "yard",
        "container",
        "hangar",
        "basement",
        "quonset",
        "lean-to",
        "loft",
    ],
    "machine": [
        "tractor",
        "forklift",
        "skid steer",
        "engine hoist",
        "loader",
        "crane truck",
        "backhoe",
        "snowmobile",
        "quad",
        "welder",
    ],
    "side": ["left", "right", "front", "back"],
    "thing": [
        "trailer",
        "camper",
        "engine",
        "transmission",
        "boat",
        "plow",
        "winch",
        "buggy",
        "wagon",
        "fence",
        "transfer case",
        "tow rig",
    ],
    "part": [
        "brake lines",
        "u-joints",
        "wheel seals",
        "pinion seal",
        "ball joints",
        "hub caps",
        "lug nuts",
        "tie rod ends",
        "dust shields",
        "calipers",
        "rotors",
        "steering arm",
        "cover",
        "drain plug",
        "breather hose",
        "sway bar links",
        "spring plates",
        "shackles",
        "track bar",
    ],
    "relative": ["uncle", "dad", "neighbor", "brother", "cousin", "son in law", "grandpa", "boss", "buddy"],
    "colour": ["black", "red", "gray", "orange", "green", "blue", "white", "yellow", "tan", "silver"],
    "letter": list(LETTERS),
    "number": [str(n) for n in range(2, 60)],
    "year": [str(n) for n in range(1974, 2019)],
}
STANDING = """
Call or text {name}, no emails, no holds without a deposit in person
I answer after {number} pm, leave a message and I will get back to you
No delivery, no shipping, cash only in {town}
Check my other ads, lots of {part} and {part} left
If the ad is up it is available, first to come takes it
{name} in {town} has been parting trucks since {year}
Low offers are ignored, I know what these go for around {other}
Will help you load with the {machine}
Open {number} to six, closed sundays, next to the {place}
Thirty day exchange on all parts from {name}, bring the slip
We also buy scrap {thing}s and {machine}s in {other}
Do not ask if it is available and do not ask my lowest, {name} has heard it
""".strip().splitlines()
TEMPLATES = """
Axle assembly, tested and inspected before sale; all units drained and tagged
Part condition graded by yard staff, photos are of the actual unit on the shelf
Used part sold with standard warranty, labor not included, core may be required
Seller notes: removed from vehicle on arrival, stored under cover, fluids drained
Item specifics as listed below, please verify fitment with your own part before ordering
Shipping by freight to a business with a dock, local pickup welcome by appointment
Returns accepted within the stated period in the condition sold, buyer pays return freight
Message through the site for questions, replies within one business day on average
Inventory is updated every evening and may be sold at the counter before the listing ends
This vehicle came in as an insurance unit and is being dismantled for parts at our location
Interchange information is a guide only, compare bolt pattern and width with yours before you buy
Please have the stock number ready when calling the parts counter about this unit
Unit is complete from wheel end to wheel end unless noted otherwise in the remarks line
Prices do not include tax, the core charge is refunded on return of a like unit
""".strip().splitlines()


def plain_sentences(desk: Desk) -> list[str]:
    """Sentences of the labelled listings in which no fact is read."""
    found = set()
    for name in ("open", "blind", "drill1", "drill2"):
        for line in (LISTINGS / f"{name}.jsonl").read_text("utf-8").splitlines():
            for part in re.split(r"[\n|•]|(?<=[.!?])\s", json.loads(line)["text"]):
                said = part.strip(" -*")
                if 4 <= len(said.split()) <= 25 and not re.search(r"[\d${]", said) and _is_plain(desk.read(said)):
                    found.add(said)
    return sorted(found)


def _is_plain(reading: Reading) -> bool:
    of_items = [f for item in reading.items for f in item.facts if f.attribute != "kind"]
    return not of_items and not reading.hazards and all(f.attribute == "offer" for f in reading.offer)


class AdvertMaker:
    """Makes adverts; the same ``seed`` makes the same."""

    def __init__(self, plain_sentences: list[str], seed: int = 11) -> None:
        self.rng = random.Random(seed)
        self.plain = plain_sentences
        self.towns = [self._name() + self.rng.choice(ENDINGS) for _ in range(900)]
        self.names = [self._name() for _ in range(1500)]
        self.templates = [self._template() for _ in range(60)]
        self.axles = 0

    def adverts(self, count: int) -> list[Advert]:
        """That many adverts in the order of their posting, each repost some way behind what it repeats."""
        made: list[Advert] = []
        while len(made) < count:
            draw = self.rng.random()
            if draw < 0.15 and made:
                made.append(self._reposted(self._earlier(made)))
            elif draw < 0.35 and made:
                made.append(self._other_of_seller(self._earlier(made)))
            elif draw < 0.55 and made:
                made += self._twins()
            else:
                made.append(self._written(self.seller(), self.axle()))
        return made[:count]

    def axle(self) -> Facts:
        """An axle with most of its facts."""
        facts = {name: self.rng.choice(values) for name, values in VALUES.items() if self.rng.random() < 0.7}
        facts["position"] = self.rng.choice(("front", "front", "rear"))
        facts["year"] = self.rng.randint(1973, 2019)
        if self.rng.random() < 0.5:
            facts["miles"] = self.rng.randint(41_000, 290_000)
        if facts["position"] == "rear":
            facts.pop("outer", None)
        return facts

    def seller(self) -> Seller:
        """Somebody new."""
        town, name = self.rng.choice(self.towns), self.rng.choice(self.names)
        style = self.rng.choice(("prose", "prose", "fragments", "capitals", "bullets", "labels", "bars"))
        fill = {"town": town, "name": name}
        standing = tuple(self._filled(s, fill) for s in self.rng.sample(STANDING, self.rng.randint(1, 3)))
        return Seller(town, name, self._phone(), style, standing)

    def _earlier(self, made: list[Advert]) -> Advert:
        return made[self.rng.randrange(max(0, len(made) - 20_000), len(made))]

    def _name(self) -> str:
        return "".join(self.rng.choice(SYLLABLES) for _ in range(self.rng.choice((2, 2, 3)))).capitalize()

    def _phone(self) -> str:
        area, last = self.rng.randint(201, 989), self.rng.randint(100, 199)
        return self.rng.choice((f"{area}-555-0{last}", f"({area}) 555-0{last}", f"555-0{last}", f"{area}.555.0{last}"))

    def _template(self) -> tuple[str, ...]:
        return tuple(self.rng.sample(TEMPLATES, self.rng.randint(3, 6)))

    def _filled(self, sentence: str, fill: dict[str, str] | None = None) -> str:
        def slot(found: re.Match[str]) -> str:
            name = found[1]
            if fill and name in fill:
                return fill[name]
            if name in ("name", "other"):
                return self.rng.choice(self.names if name == "name" else self.towns)
            return "{town}" if name == "town" else self.rng.choice(SLOTS[name])

        return re.sub(r"\{(\w+)\}", slot, sentence)

    def _own_words(self) -> list[str]:
        said = [self._filled(s) for s in self.rng.sample(SLOTTED, self.rng.randint(1, 4))]
        return said + self.rng.sample(self.plain, self.rng.randint(0, 2))

    def _worded(self, axle: Facts, seller: Seller) -> list[str]:
        names = list(axle)
        self.rng.shuffle(names)
        names.sort(key=lambda n: n != "position")
        if seller.style in ("labels", "bars"):
            return [f"{LABELS[n]}: {self._value(axle[n])}" for n in names]
        return [self.rng.choice(WORDINGS[n](axle[n])) for n in names]

    def _value(self, value: Any) -> str:
        return f"{value:.2f}" if isinstance(value, float) and value < 10 else str(value)

    def _joint(self, style: str) -> str:
        joints = {"bullets": "\n- ", "labels": "\n", "bars": " | ", "fragments": ", ", "prose": ". ", "capitals": " "}
        return joints[style]

    def _written(self, seller: Seller, axle: Facts, own: list[str] | None = None) -> Advert:
        self.axles += 1
        facts = self._worded(axle, seller)
        if seller.style in ("prose", "fragments", "capitals"):
            facts = [", ".join(facts[i : i + 3]) for i in range(0, len(facts), 3)]
        said = own or self._own_words()
        rest = [*said, *seller.standing, self._ending()]
        self.rng.shuffle(rest)
        price = self.rng.randrange(100, 2400, 25)
        return Advert(self.axles, seller, (*facts, *rest), self._joint(seller.style), price, axle, tuple(said))

    def _ending(self) -> str:
        asks = (
            "${price}",
            "asking ${price}",
            "${price} obo",
            "{price} firm",
            "Price: ${price}",
            "want ${price} for it",
        )
        calls = ("{phone}", "call {phone}", "text {phone}", "Phone {phone}", "{phone} in {town}")
        return f"{self.rng.choice(asks)}, {self.rng.choice(calls)}"

    def _other_of_seller(self, first: Advert) -> Advert:
        seller, axle = first.seller, self.axle()
        if self.rng.random() < 1 / 3:
            axle = dict(first.facts)
            name = self.rng.choice([n for n in axle if n in ("ratio", "year", "position", "drop")])
            axle[name] = self._another(name, axle[name])
            if "miles" in axle and self.rng.random() < 0.5:
                axle["miles"] = self.rng.randint(41_000, 290_000)
        own = [*first.own[: (len(first.own) + 1) // 2], self._filled(self.rng.choice(SLOTTED))]
        return replace(self._written(seller, axle, own), kind="seller's other")

    def _another(self, name: str, value: Any) -> Any:
        values = {**VALUES, "position": ("front", "rear"), "year": tuple(range(1973, 2020))}[name]
        return self.rng.choice([v for v in values if v != value])

    def _twins(self) -> list[Advert]:
        """Two sellers with axles of one kind, from one template."""
        axle, template = self.axle(), self.rng.choice(self.templates)
        style = self.rng.choice(("labels", "bars", "prose"))
        first = self._from_template(axle, template, style)
        other = dict(axle)
        if "miles" in other:
            other["miles"] = self.rng.randint(41_000, 290_000)
        return [first, replace(self._from_template(other, template, style), kind="template twin")]

    def _from_template(self, axle: Facts, template: tuple[str, ...], style: str) -> Advert:
        self.axles += 1
        seller = replace(self.seller(), style=style)
        facts = [f"{LABELS[n]}: {self._value(v)}" for n, v in axle.items()]
        stock = f"Stock {self.rng.choice(LETTERS)}{self.rng.randint(1000, 99999)}" if self.rng.random() < 0.6 else ""
        own = self._own_words()[:3]
        phrases = [*facts, *([stock] if stock else []), *template, *own, self._ending()]
        price = self.rng.randrange(100, 2400, 25)
        return Advert(self.axles, seller, tuple(phrases), self._joint(style), price, axle, tuple(own))

    def _reposted(self, first: Advert) -> Advert:
        changes = (
            self._price, self._called, self._moved, self._tenth, self._mixed, self._moved_town, self._shouted,
        )  # fmt: skip
        change = self.rng.choice(changes)
        return replace(change(first), kind=change.__name__.strip("_"))

    def _price(self, ad: Advert) -> Advert:
        return replace(ad, price=max(50, ad.price - self.rng.randrange(25, 300, 25)))

    def _called(self, ad: Advert) -> Advert:
        return replace(ad, seller=replace(ad.seller, phone=self._phone()))

    def _moved(self, ad: Advert) -> Advert:
        phrases = list(ad.phrases)
        for _ in range(max(1, len(phrases) // 3)):
            phrases.insert(self.rng.randrange(len(phrases)), phrases.pop(self.rng.randrange(len(phrases))))
        return replace(ad, phrases=tuple(phrases), joint=self.rng.choice((", ", "\n", " - ", ". ", "; ", " / ")))

    def _tenth(self, ad: Advert) -> Advert:
        return self._changed(ad, 0.10)

    def _mixed(self, ad: Advert) -> Advert:
        kept = list(ad.phrases)
        if len(kept) > 4:
            kept.pop(self.rng.randrange(1, len(kept)))
        return self._changed(self._price(self._called(replace(ad, phrases=tuple(kept)))), 0.05)

    def _moved_town(self, ad: Advert) -> Advert:
        return self._changed(
            self._called(replace(ad, seller=replace(ad.seller, town=self.rng.choice(self.towns)))), 0.05
        )

    def _shouted(self, ad: Advert) -> Advert:
        gone = set(ad.seller.standing[: (len(ad.seller.standing) + 1) // 2])
        phrases = tuple(p for p in ad.phrases if p not in gone)
        return replace(
            ad, phrases=phrases, seller=replace(ad.seller, style="capitals"), joint=self.rng.choice((" ", ". "))
        )

    def _changed(self, ad: Advert, share: float) -> Advert:
        phrases = [" ".join(self._words(p.split(" "), share)) for p in ad.phrases]
        return replace(ad, phrases=tuple(phrases))

    def _words(self, words: list[str], share: float) -> Iterator[str]:
        for word in words:
            if self.rng.random() >= share or "{" in word or any(c.isdigit() for c in word):
                yield word
                continue
            draw = self.rng.randrange(4)
            if draw == 0:
                yield self._mistyped(word)
            elif draw == 1:
                yield self.rng.choice(self.rng.choice(self.plain).split())
            elif draw == 2:
                yield from (word, self.rng.choice(self.rng.choice(self.plain).split()))

    def _mistyped(self, word: str) -> str:
        if len(word) < 4:
            return word
        at = self.rng.randrange(1, len(word) - 1)
        draw = self.rng.randrange(3)
        if draw == 0:
            return word[:at] + word[at + 1] + word[at] + word[at + 2 :]
        return word[:at] + word[at + 1 :] if draw == 1 else word[:at] + self.rng.choice(LETTERS) + word[at:]
