"""The SELECT gives the same as plain Python over the catalogue, whatever is asked."""

import random

import pytest
from sqlalchemy import Connection

from donorbase.attributes import PAIRS, Attribute, Kind, of_scope
from donorbase.facts import Value
from donorbase.reference.catalogue import Catalogue
from donorbase.reference.conditions import RATIO_SOLD, Condition, parse_condition
from donorbase.reference.load import load_catalogue
from donorbase.services.find import find_plain
from donorbase.store.find import find_variants

QUERIES = 400


def random_condition(chance: random.Random, catalogue: Catalogue) -> Condition:
    """A condition drawn round values that stand in the catalogue, so that it neither meets all nor none."""
    if chance.random() < 0.1:
        gear_set = chance.choice([g for g in catalogue.gear_sets.values() if g.ratios_sold])
        return parse_condition(RATIO_SOLD, number_text(chance, chance.choice(gear_set.ratios_sold)))
    attribute = chance.choice(of_scope("axle"))
    values = [value for v in catalogue.variants.values() for value in v.all(attribute.name)]
    if attribute.name in ("variant", "family"):
        key = chance.choice(list(catalogue.variants))
        text = key if attribute.name == "variant" else key.partition("/")[0]
        return parse_condition(attribute.name, text[: chance.randint(3, len(text))] + "*")
    return parse_condition(attribute.name, condition_text(chance, attribute, values))


def condition_text(chance: random.Random, attribute: Attribute, values: list[Value]) -> str:
    if attribute.kind is Kind.FLAG:
        return chance.choice(["yes", "no"])
    if attribute.kind in (Kind.CHOICE, Kind.KEY):
        return ",".join(str(value) for value in chance.choices(values, k=chance.randint(1, 2)))
    if attribute.kind is Kind.TEXT:
        word = chance.choice(str(chance.choice(values)).replace(",", " ").split())
        return word.upper() if chance.random() < 0.5 else word
    drawn = chance.choices(values, k=2)
    ends = [end for value in drawn for end in (value if isinstance(value, tuple) else (value,)) if end is not None]
    return number_text(chance, *sorted(float(str(end)) for end in ends))


def number_text(chance: random.Random, *numbers: float) -> str:
    low, high = (f"{number:g}" for number in (numbers[0], numbers[-1]))
    return chance.choice([low, f"{low}+", f"<={high}", f">={low}", f"{low}-{high}", f"{low},{high}"])


@pytest.mark.parametrize("seed", range(4))
def test_sql_and_python_agree(connection: Connection, seed: int) -> None:
    chance, catalogue = random.Random(seed), load_catalogue()
    met = unknown = 0
    for _ in range(QUERIES // 4):
        conditions = [random_condition(chance, catalogue) for _ in range(chance.randint(1, 3))]
        sort = chance.choice(["", *(a.name for a in of_scope("axle"))])
        descending = chance.random() < 0.5
        by_sql = find_variants(connection, conditions, sort, descending)
        assert by_sql == find_plain(catalogue, conditions, sort, descending), (conditions, sort, descending)
        met += sum(not lacking for _, lacking in by_sql)
        unknown += sum(bool(lacking) for _, lacking in by_sql)
    assert met > 100, "the queries must find something"
    assert unknown > 100, "the queries must meet what is not known"


@pytest.mark.parametrize("attribute", of_scope("axle"), ids=lambda a: a.name)
def test_every_attribute_can_be_asked_and_sorted_by(connection: Connection, attribute: Attribute) -> None:
    catalogue = load_catalogue()
    values = [v for variant in catalogue.variants.values() for v in variant.all(attribute.name)]
    text = "front*" if attribute.kind is Kind.KEY else condition_text(random.Random(7), attribute, values)
    condition = parse_condition(attribute.name, text)
    for descending in (False, True):
        by_sql = find_variants(connection, [condition], attribute.name, descending)
        assert by_sql == find_plain(catalogue, [condition], attribute.name, descending)


def test_what_is_not_known_is_sorted_last(connection: Connection) -> None:
    for descending in (False, True):
        keys = [key for key, _ in find_variants(connection, [], "width_in", descending)]
        known = [load_catalogue().variants[key].get("width_in") is not None for key in keys]
        assert True in known
        assert False in known
        assert known == sorted(known, reverse=True)


def test_signs_of_sql_in_a_question_are_only_signs(connection: Connection) -> None:
    for text in ("' OR 1=1 --", "100%", "a_b", "\\"):
        found = find_variants(connection, [parse_condition("stud", text)])
        assert all(lacking for _, lacking in found), "no thread is written so"


def test_pairs_are_asked_by_overlap(connection: Connection) -> None:
    assert {a.name for a in of_scope("axle") if a.kind in PAIRS} >= {"years", "gawr_lb"}
    found = {key for key, lacking in find_variants(connection, [parse_condition("years", "2010-2011")]) if not lacking}
    assert "front-9.75-balljoint/a-2005-2010-srw" in found
    assert "front-9.75-balljoint/a-2011-2016-srw" in found
    assert "front-9.75-balljoint/a-1999-2004-srw" not in found
