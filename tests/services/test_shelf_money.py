"""Money of a build: each part counts once, and what nobody told is in no sum."""

from datetime import date

from donorbase.services.builds import add_build
from donorbase.services.desk import Desk
from donorbase.services.house import House
from donorbase.services.hunting import Occasion, move
from donorbase.services.keeping import Keeper, Seen
from donorbase.services.promising import Taking, release, take
from donorbase.services.pulling import Pulled, pull
from donorbase.services.shelf_money import Sales, money_of, sales_of_no_build
from donorbase.services.splitting import split_part
from donorbase.shipped import data_dir

WHEN = Occasion(date(2026, 11, 9), "owner")
KINGPIN = "front-9.75-kingpin/b-1977-1991-srw"
ADVERT = "Front axle off a 2008 line-A one ton, coil, ball joint, SRW, 8x170, 3.73, driver side. $900"


def test_each_part_counts_once_and_what_is_not_known_in_no_sum(house: House) -> None:
    add_build(house, data_dir() / "demo" / "crawler.toml")
    tags = [pull(house, Pulled("rotor", axle=KINGPIN, cost_cents=cents), WHEN).tag for cents in (1_001, 2_002, None)]
    take(house, tags[0], Taking("used", build="crawler"), WHEN)
    take(house, tags[1], Taking("reserved", build="crawler"), WHEN)
    take(house, tags[2], Taking("used", build="crawler"), WHEN)
    pull(house, Pulled("rotor", axle=KINGPIN, cost_cents=99_999), WHEN)
    (money,) = money_of(house)
    assert (money.fitted_cents, money.set_aside_cents, money.spent_cents, money.unknown) == (1_001, 2_002, 3_003, 1)
    assert (money.to_come_cents, money.limit_cents) == (0, 220_000)
    release(house, tags[0], WHEN)
    assert money_of(house, ["crawler"])[0].fitted_cents == 0


def test_an_axle_that_was_bought_counts_until_it_is_on_the_shelf(house: House) -> None:
    add_build(house, data_dir() / "demo" / "crawler.toml")
    (kept,) = Keeper(house, Desk.of_house(house, 2026), ("crawler",), "owner").keep([Seen(ADVERT, WHEN.on)])
    (number,) = kept.candidates.values()
    assert money_of(house)[0].spent_cents == 0
    move(house, [number], "bought", WHEN)
    assert money_of(house)[0].bought_cents == 90_000
    part = pull(house, Pulled("axle", axle=KINGPIN, candidate_id=number, cost_cents=85_000), WHEN)
    take(house, part.tag, Taking("used", build="crawler"), WHEN)
    (money,) = money_of(house)
    assert (money.bought_cents, money.fitted_cents) == (0, 85_000)


def test_what_a_bare_housing_lacks_is_to_come(house: House) -> None:
    """The demo build's own prices: an outer shaft 210, a rotor 75 (data/demo/crawler.toml)."""
    add_build(house, data_dir() / "demo" / "crawler.toml")
    housing = pull(house, Pulled("housing", axle=KINGPIN, cost_cents=10_000), WHEN)
    take(house, housing.tag, Taking("used", build="crawler"), WHEN)
    before = money_of(house)[0].to_come_cents
    for price, kind in ((7_500, "rotor"), (21_000, "outer-shaft")):
        pull(house, Pulled(kind, axle=KINGPIN, cost_cents=500), WHEN)
        after = money_of(house)[0].to_come_cents
        assert before - after == price
        before = after


def test_what_selling_the_rest_brought_stands_beside_what_it_had_cost(house: House) -> None:
    add_build(house, data_dir() / "demo" / "crawler.toml")
    (kept,) = Keeper(house, Desk.of_house(house, 2026), ("crawler",), "owner").keep([Seen(ADVERT, WHEN.on)])
    (number,) = kept.candidates.values()
    whole = pull(house, Pulled("axle", axle=KINGPIN, candidate_id=number, cost_cents=10_000), WHEN)
    rotor, shaft = split_part(house, whole.tag, WHEN, asked=["rotor=1", "outer-shaft=3"]).pieces
    take(house, rotor.tag, Taking("sold", person="Kim", price_cents=4_000), WHEN)
    other = pull(house, Pulled("caliper", "left"), WHEN)
    take(house, other.tag, Taking("sold", person="Kim", price_cents=900), WHEN)
    assert money_of(house)[0].sales == Sales(1, 4_000, 2_500, 0)
    assert sales_of_no_build(house) == Sales(1, 900, 0, 1)
    release(house, rotor.tag, WHEN)
    assert money_of(house)[0].sales.count == 0
    assert shaft.cost_cents == 7_500
