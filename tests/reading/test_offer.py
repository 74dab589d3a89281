"""The offer: its kind, the price that is asked, terms, and how to reach the seller."""

from collections.abc import Callable
from typing import Any

import pytest

Read = Callable[[str], dict[str, Any]]

PRICES = [
    ("$850 obo", 850), ("850obo", 850), ("850 firm", 850), ("$1,150", 1150), ("1.2k obo", 1200), ("2k firm",
    2000), ("twelve hundred bucks", 1200),
    ("asking fifteen hundred", 1500), ("I want a grand for it", 1000), ("3 bills", 300), ("90$", 90),
    ("was $1200 now $900", 900),
    ("~~$950~~ $700", 700), ("front $800 rear $500 or take both for $1200", 1200),
    ("500 for the pair or 300 each", 500), ("paid 320, asking 200", 200),
    ("$385 + 40 core", 385), ("List 3,995 NOW 1,895", 1895), ("price is also 410 lol", 410),
    ("i want six fifty no wait seven hundred so seven hundred", 700),
    ("600 or offer", 600), ("US$ 480", 480), ("1800 por los dos", 1800), ("400$ ferme", 400), ("$250.00", 250),
    ("he wants five and a quarter", 525), ("lowest? 400", 400), ("it's 400", 400), ("I have $900 in it, $975", 975),
    ("$400 in new gears, asking $850", 850), ("$1,100 + $450, or $1,400 for it all", 1400),
    ("45.00 EA / 120.00 ALL", 120),
    ("250 and 300.", 250), ("189.99 + 35 CORE", 189.99),
    ("price dropped from 1000 to 850", 850), ("$8OO", 800), ("1 500 $", 1500),
    ("10% buyer's premium, buy now 475", 475),
    ("$850 today, $1000 tomorrow", 850), ("turned down 700, want 850", 850), ("so call it 450", 450),
    ("hundred and eighty bucks", 180), ("both for a grand even", 1000), ("half a grand", 500),
    ("a grand and a half", 1500), ("$2,200 shipping extra", 2200),
    ("figure 450", 450), ("I'd take 450 for it", 450), ("450 is fair", 450),
    ("450 was 600", 450), ("she wants 500, I want it gone, so 400", 400), ("I won't take 300. 450", 450),
    ("six fifty", 650),
    ("500 4 both", 500), ("price for rear: 350", 350), ("make it 700 and they are yours", 700), ("$20, make it 15", 15),
    ("600 and maybe I throw in the cover", 600), ("1500 race ready", 1500), ("five hundred even", 500),
    ("F 900, R 600, take both for 1300", 1300), ("$750 $600", 600), ("I have 2,500 invested, 1,400 gets them", 1400),
    ("$1,100 + $450, or $1,400 if you clear my bay", 1400), ("dealer quoted me 3400 for one. mine is 900", 900),
    ("225 or make me an offer", 225), ("shop bill was there ($1,340 then). I'm at $725", 725), ("7k rated, $550", 550),
]  # fmt: skip
NO_PRICES = [
    "make offer",
    "$1",
    "$1234",
    "weighs 400 lbs",
    "call 555-0117",
    "off a Stockhand 350",
    "8x170",
    "1350 yoke",
    "142k miles",
    "2014",
    "10% buyer's premium",
    "opening bid $300 the lot",
    "free delivery",
    "hubs spin free",
    "auction Sat 10/14",
    "drove 3k on it since",
    "$4-500 depending on how fast",
]


@pytest.mark.parametrize(("text", "price"), PRICES)
def test_price(read: Read, text: str, price: float) -> None:
    assert read(f"front and rear axle 8 lug. {text}").get("price_usd") == price


@pytest.mark.parametrize("text", NO_PRICES)
def test_no_price(read: Read, text: str) -> None:
    assert "price_usd" not in read(f"rear axle 8 lug, {text}")


TERMS = [
    ("$400 firm", ["firm"]), ("$400 obo", ["or-best-offer"]), ("$400, trades welcome", ["trades-considered"]),
    ("$400 each", ["each"]), ("$400. bearings firm and tight", []), ("$400 not firm", []), ("$400. trades? no", []),
    ("$400, I'm flexible", ["or-best-offer"]), ("$400, will take less from a neighbor", ["or-best-offer"]),
    ("lowest? it's 400", ["firm"]), ("got them in trade, $400", []), ("2500 firm, kidding, 600", []),
    ("$400 no trades", []), ("$400, no lowballers", []), ("$400 negociable", ["or-best-offer"]),
    ("$70 cada una", ["each"]),
    ("$400 open diff", []), ("$400, tubes 40 in long each", []),
    ("$400/best", ["or-best-offer"]), ("$400 ob0", ["or-best-offer"]), ("$400, price is what it is", ["firm"]),
    ("$400, don't ask for trades", []), ("free", ["free"]), ("$400, no menos", ["firm"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "terms"), TERMS)
def test_terms(read: Read, text: str, terms: list[str]) -> None:
    assert read(f"2 rear axles, {text}").get("price_terms", []) == terms


OFFERS = [
    ("WTB front axle kingpin", "wanted"), ("ISO rear axle for my 2001", "wanted"), ("Need ONE outer stub shaft",
    "wanted"), ("BUSCO eje delantero", "wanted"),
    ("rear axle, need gone, $100", "for-sale"), ("[SOLD] rear axle 3.73", "sold"), ("rear axle sold as is $100",
    "for-sale"),
    ("front already sold, rear axle still here $500", "for-sale"),
    ("Trade: have rear axle, want SRW. Straight across", "trade"),
    ("rear axle $700, would consider a trade for a 4.10 one", "for-sale"),
    ("STRAIGHT SWAP ONLY NO CASH: rear axle", "trade"),
    ("Don't need this rear axle anymore. $90", "for-sale"), ("rear axle", "for-sale"), ("rear axle SOLD", "sold"),
    ("Anybody parting a 05? Need the front axle. 1,400 cash", "wanted"),
    ("This axle has been sold, leaving it up", "sold"),
    ("rear axle. Needs: pinion bearing. $300", "for-sale"), ("rear axle, motor sold, $500", "for-sale"),
    ("rear axle for sale, front sold", "for-sale"), ("WANTED TO TRADE: my 4.56 rear axle for a 4.10", "trade"),
    ("My rear axle grenaded, need another one, 3.73", "wanted"), ("Any rear axles out there? 3.73", "wanted"),
    ("Does anyone have a front axle for sale?", "wanted"), ("Need a rear, 4.10, open", "wanted"),
    ("I'm after a bit of help: I have a front axle here, call it 450", "for-sale"),
    ("rear axle 3.73. It's sold, please stop calling", "sold"),
    ("Swap? I have wheels 8x170. Need 8x6.5", "trade"), ("rear axle sold pending pickup", "sold"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "offer"), OFFERS)
def test_offer(read: Read, text: str, offer: str) -> None:
    assert read(text)["offer"] == offer


OTHERS = [
    ("142k miles", "mileage_mi", 142_000), ("180 000 km", "mileage_mi", 111_847), ("112xxx miles", "mileage_mi",
    112_000), ("190 mil millas", "mileage_mi", 190_000),
    ("94k on donor", "mileage_mi", 94_000), ("donor clocked 97,311", "mileage_mi", 97_311), ("23 mi away",
    "distance_mi", 23),
    ("zip 56988", "zip", "56988"), ("Gulley Flats 67899", "zip", "67899"), ("ships freight from 58799", "zip",
    "58799"),
    ("call 555-0117", "contact", True), ("call five five five, zero one three one", "contact", True),
    ("a@example.com", "contact", True),
    ("(303) 555-0126", "contact", True), ("VIN 4Z9HD25K6XT550318", "vin", "4Z9HD25K6XT550318"),
    ("VIN 4Z9HD25K6XT55O318", "vin", "4Z9HD25K6XT550318"),
    ("scrapped at 96k", "mileage_mi", 96_000), ("km on it 288,000", "mileage_mi", 178_955), ("kilometer 255.000",
    "mileage_mi", 158_450), ("188 on the clock", "mileage_mi", 188_000),
    ("it had 118,000 on it", "mileage_mi", 118_000),
    ("take off, 312 miles", "mileage_mi", 312), ("a hundred and sixty two thousand miles", "mileage_mi", 162_000),
    ("142,xxx miles", "mileage_mi", 142_000), ("150k?? no the truck had 131k", "mileage_mi", 131_000),
    ("12 mi frm you", "distance_mi", 12), ("58801.", "zip", "58801"), ("58733-1234", "zip", "58733"),
    ("text five five five 0 1 4 4", "contact", True), ("cinco cinco cinco cero uno cuatro cero", "contact", True),
    ("307.555.0123", "contact", True), ("VIN 7ZZPF1T42SK035124", "vin", "7ZZPF1T42SK035124"), ("free", "price_usd", 0),
]  # fmt: skip
NOT_OTHERS = [
    ("14k miles on rebuild", "mileage_mi"), ("can deliver within 50 miles", "distance_mi"),
    ("engine was done at 150k", "mileage_mi"),
    ("the last 75 miles home", "mileage_mi"), ("$56988", "zip"), ("stk 56988", "zip"), ("dimensions 555x0117",
    "contact"), ("88210 miles", "zip"),
    ("post id: 7791830412", "contact"), ("under 100k", "mileage_mi"), ("120-130k miles", "mileage_mi"),
    ("rotors with 6k on them", "mileage_mi"),
    ("25 miles north of town", "distance_mi"), ("4.10 miles from the highway exit", "distance_mi"),
    ("I did 90k miles in that truck", "mileage_mi"), ("30 miles from you if you live in town", "distance_mi"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "field", "value"), OTHERS)
def test_others(read: Read, text: str, field: str, value: Any) -> None:
    assert read(f"rear axle 3.73. {text}").get(field) == value


@pytest.mark.parametrize(("text", "field"), NOT_OTHERS)
def test_not_others(read: Read, text: str, field: str) -> None:
    assert field not in read(f"rear axle 3.73. {text}")
