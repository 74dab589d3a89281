"""Wear limits: those published are used of their own axle alone, and the number cast on a part comes first."""

import pytest

from donorbase.errors import BadInput
from donorbase.reference.load import load_catalogue
from donorbase.reference.measures import measure_named, measures
from donorbase.reference.parts import part_kinds
from donorbase.reference.wear_match import surely_applies
from donorbase.shelf.limits import judge_amount

CATALOGUE = load_catalogue()
KINGPIN_B = "front-9.75-kingpin/b-1977-1991-srw"
TWIN = "front-9.75-kingpin/mil-1984-1987"
HALF_B = "front-8.50-ten-bolt/b-1977-1991-half"
BALL_A_1990S = "front-9.75-balljoint/a-1992-1997-srw"
BALL_A_LATE = "front-9.75-balljoint/a-2005-2010-srw"
REAR_B = "rear-10.50-fourteen-bolt/b-1973-2000-srw-drum"
REAR_1025 = "rear-10.25-twelve-bolt/a-1985-1997-ff-srw"
TM_ROTOR = "TM 9-2320-289-34, para 7-2, tables 7-1/7-2"
MANUAL_1996 = "maker's 1996 workshop manual for line-A, sec. 06-03"

PUBLISHED = [
    # measure, off, amount as read, state, source
    ("rotor-thickness", KINGPIN_B, "1.500in", "within", TM_ROTOR),
    ("rotor-thickness", KINGPIN_B, "1.480in", "within", TM_ROTOR),
    ("rotor-thickness", KINGPIN_B, "1.470in", "at limit", TM_ROTOR),
    ("rotor-thickness", KINGPIN_B, "1.465", "at limit", TM_ROTOR),
    ("rotor-thickness", KINGPIN_B, "37.211mm", "at limit", TM_ROTOR),
    ("rotor-thickness", KINGPIN_B, "1.44in", "out", TM_ROTOR),
    ("rotor-thickness", TWIN, "1.464in", "out", TM_ROTOR),
    ("rotor-thickness", HALF_B, "1.220in", "at limit", TM_ROTOR),
    ("rotor-thickness", HALF_B, "1.210in", "out", TM_ROTOR),
    ("rotor-thickness", BALL_A_1990S, "1.12in", "within", MANUAL_1996),
    ("rotor-thickness", BALL_A_1990S, "28.4mm", "out", MANUAL_1996),
    ("rotor-scoring", KINGPIN_B, "0.016", "out", TM_ROTOR),
    ("drum-diameter", REAR_B, "13.060in", "within", TM_ROTOR),
    ("drum-diameter", REAR_B, "13.080in", "at limit", TM_ROTOR),
    ("drum-diameter", REAR_B, "13.091in", "out", TM_ROTOR),
    ("lining-over-rivet", KINGPIN_B, "1/32in", "within", "49 CFR 570.59(c)"),
    ("lining-over-shoe", REAR_B, "1/32in", "out", "49 CFR 570.59(c)"),
    ("backlash", REAR_1025, "0.013", "within", "maker's 1996 workshop manual for line-A, sec. 05-02A"),
    ("backlash", REAR_1025, "0.007", "out", "maker's 1996 workshop manual for line-A, sec. 05-02A"),
    # 0.2 mm is 0.00787 in, at 25.4 mm to the inch: eight thousandths.
    ("backlash", REAR_1025, "0.2 mm", "within", "maker's 1996 workshop manual for line-A, sec. 05-02A"),
    ("ring-gear-runout", KINGPIN_B, "0.002", "within", "TM 9-2320-289-34, para 6-5"),
]


@pytest.mark.parametrize(("measure", "axle", "text", "state", "source"), PUBLISHED)
def test_published_limits(measure: str, axle: str, text: str, state: str, source: str) -> None:
    asked = measures()[measure]
    judged = judge_amount(asked.parse(text), asked, CATALOGUE.wear, CATALOGUE.variants[axle])
    assert judged.state == state, judged.because
    assert any(source in line for line in judged.because)


NOT_KNOWN = [
    pytest.param(BALL_A_LATE, "1.44in", id="no limit is published of it"),
    pytest.param(None, "1.44in", id="off nobody knows what"),
    pytest.param(None, "0.5in", id="thin, but off nobody knows what"),
]


@pytest.mark.parametrize(("axle", "text"), NOT_KNOWN)
def test_a_limit_that_may_be_of_another_axle_judges_nothing(axle: str | None, text: str) -> None:
    """49 CFR 570.59(b): the marked limit counts, so that without it nothing is said."""
    asked = measures()["rotor-thickness"]
    variant = CATALOGUE.variants[axle] if axle else None
    judged = judge_amount(asked.parse(text), asked, CATALOGUE.wear, variant)
    assert judged.state == "not known"
    assert any("measure and compare with the number cast on it" in line for line in judged.because)


def test_the_figure_of_its_kind_judges_where_no_wear_point_does() -> None:
    """28.5 mm is 1.1220 in, at 25.4 mm to the inch; a figure of low confidence judges nothing, nor does one too few."""
    asked = measures()["rotor-thickness"]
    bare = [v for v in CATALOGUE.variants.values() if asked.figures(v)]
    assert len(bare) > 5, "no variant has such a figure"
    for variant in bare:
        limit, figure = max(asked.figures(variant)), variant.figures["rotor_min_mm"]
        assert limit == pytest.approx(float(str(max(variant.all("rotor_min_mm")))) / 25.4)
        sure = figure.confidence != "low"
        thick = judge_amount(limit + 0.001, asked, [], variant)
        thin = judge_amount(min(asked.figures(variant)) - 0.001, asked, [], variant)
        assert (thick.state, thin.state) == (("within", "out") if sure else ("not known",) * 2)
        assert figure.basis in thick.because[0]
        assert any("cast on it" in line for line in thick.because)
        assert judge_amount(limit + 0.001, asked, [], variant, cast=limit + 0.1).state == "out"
    without = [v for v in CATALOGUE.variants.values() if not asked.figures(v)]
    assert {judge_amount(0.1, asked, [], variant).state for variant in without} == {"not known"}


def test_the_figures_agree_with_the_wear_points_of_the_same_axle() -> None:
    """Two files tell one limit: the last limit of a wear point that is surely of an axle is its figure."""
    looked = 0
    for asked in (measures()["rotor-thickness"], measures()["drum-diameter"]):
        for variant in CATALOGUE.variants.values():
            points = [p for p in CATALOGUE.wear if asked.is_of(p) and surely_applies(p, variant)]
            limits = [pair for point in points if (pair := asked.limits(point))]
            for figure in asked.figures(variant):
                for _, last in limits:
                    looked += 1
                    assert figure == pytest.approx(last, abs=0.003), (variant.key, asked.measure)
    assert looked > 5


def test_the_number_cast_on_the_part_comes_first() -> None:
    """49 CFR 570.59(b); it is stricter here than the published limit, and then laxer."""
    asked, variant = measures()["rotor-thickness"], CATALOGUE.variants[KINGPIN_B]
    for amount, cast, state in ((1.49, 1.5, "out"), (1.44, 1.43, "within"), (1.44, 1.44, "within")):
        judged = judge_amount(amount, asked, CATALOGUE.wear, variant, cast)
        assert judged.state == state
        assert "cast on it" in judged.because[0]


def test_no_axle_gets_the_rotor_limit_of_another_line() -> None:
    """Of every variant: a limit that judges its rotors names every donor line that it comes from."""
    asked = measures()["rotor-thickness"]
    sure = 0
    for variant in CATALOGUE.variants.values():
        points = [p for p in CATALOGUE.wear if asked.is_of(p) and asked.limits(p) and surely_applies(p, variant)]
        sure += len(points)
        for point in points:
            lines = set(variant.all("donor_line"))
            named = {word.strip(",") for word in point.applies_to.split() if word.startswith("line-")}
            assert lines <= named | ({"military"} if "military twin" in point.applies_to else set()), variant.key
    assert sure > 5


def test_a_reading_further_out_is_never_judged_better() -> None:
    """Monotone: a thinner rotor, a wider drum, a greater runout never comes out better."""
    order = {"within": 0, "at limit": 1, "out": 2}
    looked = 0
    for asked in measures().values():
        if asked.bound == "between":
            continue
        sign = -1 if asked.bound == "least" else 1
        for variant in (CATALOGUE.variants[key] for key in (KINGPIN_B, REAR_B, BALL_A_1990S)):
            amounts = [1.0 * step / 1000 for step in range(0, 14_000, 7)][::sign]
            states = [judge_amount(a, asked, CATALOGUE.wear, variant).state for a in amounts]
            if "not known" not in states:
                looked += 1
                assert [order[s] for s in states] == sorted(order[s] for s in states), (asked.measure, variant.key)
    assert looked > 10


def test_every_measure_is_of_a_kind_of_part_and_finds_its_limit() -> None:
    worn = {word for kind in part_kinds().values() for word in kind.wear}
    for asked in measures().values():
        assert asked.wear_part in worn, asked.measure
        found = [asked.limits(p) for p in CATALOGUE.wear if asked.is_of(p)]
        limits = [pair for pair in found if pair]
        assert limits, asked.measure
        for first, last in limits:
            assert last <= first if asked.bound == "least" else first <= last, asked.measure


def test_what_is_not_measured_on_such_a_part_is_said() -> None:
    with pytest.raises(BadInput, match="not measured on such a part") as wrong:
        measure_named("drum-diameter", part_kinds()["rotor"].wear)
    assert "rotor-thickness" in wrong.value.next_step
    with pytest.raises(BadInput, match="nothing is measured"):
        measure_named("rotor-thicknes", part_kinds()["rotor"].wear)
