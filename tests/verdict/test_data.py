"""The figures of judging hang together with the words of work, the parts and the attributes."""

from donorbase.attributes import attribute
from donorbase.reference.judging import judging
from donorbase.reference.load import load_catalogue
from donorbase.verdict.subjects import subject_of

WORDS = [
    "regear",
    "new-differential",
    "bearings-and-seals",
    "ball-joints",
    "kingpin-rebuild",
    "brake-rebuild",
    "brackets",
    "move-perches",
    "single-wheel-hubs",
    "redrill-hubs",
    "spacers",
    "disc-conversion",
    "outer-shafts",
    "master-cylinder",
    "buy-missing-parts",
    "new-carrier",
    "straighten-housing",
    "change-width",
    "move-transfer-case-output",
    "swap-sides",
    "pull-from-vehicle",
    "tow-home",
    "sell-leftovers",
    "scrap-hulk",
    "hub-conversion",
]


def test_every_word_of_work_of_a_build_file_is_on_record_with_cost_and_basis() -> None:
    works = load_catalogue().works
    assert set(WORDS) <= works.keys()
    for work in works.values():
        assert work.cost_usd is not None
        assert work.basis


def test_cures_speak_of_known_subjects_and_works() -> None:
    assert judging().cures
    for cure in judging().cures:
        assert subject_of(cure.subject)
        assert cure.work in load_catalogue().works


def test_every_part_has_a_price_and_what_brings_it_along_is_work() -> None:
    assert set(judging().parts) <= set(attribute("part").values)
    for name, part in judging().parts.items():
        assert 0 < part.price_usd[0] <= part.price_usd[1], name
        assert set(part.replaced_by) <= load_catalogue().works.keys(), name


def test_conversions_name_the_work_that_they_price() -> None:
    named = {row.work for row in load_catalogue().interchange if row.work}
    assert {"single-wheel-hubs", "disc-conversion", "outer-shafts", "regear", "master-cylinder"} <= named
    assert all(row.cost_usd for row in load_catalogue().interchange if row.work)


def test_chances_are_chances() -> None:
    known = judging().known
    assert 0 < known.low < known.unlisted_shallow < known.seen < known.high < 1
    assert all(0 <= chance < 1 for chance in judging().unsaid.values())
    assert judging().unsaid["bent"] + judging().unsaid["cracked"] < known.low
