"""Tie-downs against 49 CFR 393.102-.110, freight density against a freight page's example, weight classes."""

import pytest

from donorbase.engineering import load
from donorbase.errors import BadInput


def test_what_a_600_lb_axle_asks_for() -> None:
    # 49 CFR 393.102 (a)(2): 0.435 g forward, 0.5 g rearward, 0.25 g sideways; (b) 20 % downward; 393.106:
    # half.
    needs = load.tie_down(600, 70, [load.Strap(500), load.Strap(500)])
    assert (needs.forward_lb, needs.rearward_lb, needs.sideways_lb, needs.together_lb) == (261, 300, 150, 300)
    assert needs.downward_lb == 120
    assert needs.counted_lb == 500
    assert needs.faults == ()


def test_a_strap_over_the_load_counts_whole_and_one_to_it_by_half() -> None:
    assert load.tie_down(600, 70, [load.Strap(400, over_the_load=True), load.Strap(400)]).counted_lb == 600


@pytest.mark.parametrize(
    ("weight", "length", "number"),
    [
        (600, 48, 1),
        (1100, 60, 1),
        (1101, 60, 2),
        (600, 61, 2),
        (600, 120, 2),
        (600, 121, 3),
        (600, 240, 3),
        (600, 241, 4),
    ],
)
def test_least_number(weight: float, length: float, number: int) -> None:
    # 49 CFR 393.110: one to 5 ft and 1,100 lb; two to 10 ft; one more for each further 10 ft begun.
    assert load.tie_down(weight, length, []).least_number == number


def test_too_little_is_said() -> None:
    needs = load.tie_down(600, 70, [load.Strap(500)])
    assert len(needs.faults) == 2
    with pytest.raises(BadInput):
        load.tie_down(0, 70, [])


def test_payload_and_trailer() -> None:
    assert load.payload_left_lb(1500, [360, 200, 1100]) == -160
    assert load.trailer_limit({"tires": 3500, "axle": 3000, "hitch": 5000}) == ("axle", 3000)
    with pytest.raises(BadInput):
        load.trailer_limit({})


def test_freight_density() -> None:
    # Freight page: 425 lb on 40 x 48 x 48 in is 7.97 lb/ft3, class 125. A 600 lb axle on 80 x 48 x 36 in:
    # 7.5.
    assert load.freight_density(425, 40, 48, 48) == pytest.approx(7.97, abs=0.005)
    assert load.freight_class(7.97) == "125"
    assert load.freight_density(600, 80, 48, 36) == 7.5
    with pytest.raises(BadInput):
        load.freight_density(600, 80, 48, 0)


@pytest.mark.parametrize(
    ("density", "name"),
    [
        (0.5, "400"),
        (1, "300"),
        (2, "250"),
        (4, "175"),
        (6, "125"),
        (8, "100"),
        (10, "92.5"),
        (12, "85"),
        (15, "70"),
        (22.5, "65"),
        (30, "60"),
        (35, "55"),
        (50, "50"),
        (90, "50"),
    ],
)
def test_freight_classes(density: float, name: str) -> None:
    # The density scale in force since 19 July 2025.
    assert load.freight_class(density) == name


@pytest.mark.parametrize(
    ("gvwr", "code", "truck", "word"),
    [
        (7050, "F", "2a", "half-ton"),
        (8500, "G", "2a", "half-ton"),
        (8800, "G", "2b", "three-quarter-ton"),
        (10000, "H", "2b", "three-quarter-ton"),
        (10001, "3", "3", "one-ton"),
        (15000, "4", "4", "over-one-ton"),
        (40000, "8", "8", "over-one-ton"),
        (6000, "D", "1", "half-ton"),
    ],
)
def test_weight_classes(gvwr: float, code: str, truck: str, word: str) -> None:
    # Classes A-H and 3-8 of 49 CFR 565: F is 7,001-8,000 lb. Words as the encyclopaedia gives them.
    assert load.gvwr_class(gvwr) == (code, truck, word)


def test_no_weight() -> None:
    with pytest.raises(BadInput):
        load.gvwr_class(0)


# Greatest GVWR in lb of each class: 49 CFR 565, Table IX in the text of the 2008 final rule.
CLASS_BOUNDS = [
    (3000, "A", "B"),
    (4000, "B", "C"),
    (5000, "C", "D"),
    (6000, "D", "E"),
    (7000, "E", "F"),
    (8000, "F", "G"),
    (9000, "G", "H"),
    (10000, "H", "3"),
    (14000, "3", "4"),
    (16000, "4", "5"),
    (19500, "5", "6"),
    (26000, "6", "7"),
    (33000, "7", "8"),
]


@pytest.mark.parametrize(("most_lb", "within", "above"), CLASS_BOUNDS)
def test_bounds_of_the_weight_classes(most_lb: int, within: str, above: str) -> None:
    assert load.gvwr_class(most_lb)[0] == within
    assert load.gvwr_class(most_lb + 1)[0] == above


def test_where_the_words_of_the_trade_change() -> None:
    # Truck classes 2a to 8,500 lb, 2b to 10,000 lb, 3 to 14,000 lb (encyclopaedia article).
    words = [load.gvwr_class(lb)[1:] for lb in (8500, 8501, 10000, 10001, 14000, 14001)]
    assert words == [
        ("2a", "half-ton"),
        ("2b", "three-quarter-ton"),
        ("2b", "three-quarter-ton"),
        ("3", "one-ton"),
        ("3", "one-ton"),
        ("4", "over-one-ton"),
    ]
