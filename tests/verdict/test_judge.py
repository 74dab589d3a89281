"""The verdict rule in its order, and the metamorphic checks of the acceptance scenarios."""

import copy
from collections.abc import Callable
from typing import Any

import pytest

from donorbase.facts import Fact, Known
from donorbase.verdict.build import parse_build
from donorbase.verdict.spec import Build
from donorbase.verdict.verdicts import Call, ListingVerdict, State
from donorbase.verdict.weigh import absent

Judge = Callable[..., ListingVerdict]
Plain = dict[str, Any]


def without(item: Plain, *names: str) -> Plain:
    return {name: value for name, value in item.items() if name not in names}


def state(verdict: ListingVerdict, subject: str) -> State:
    return next(f.state for f in verdict.items[0].findings if f.requirement.subject == subject)


class TestOneAxle:
    def test_everything_said_and_right_fits(self, front_build: Build, coil_front: Plain, verdict: Judge) -> None:
        found = verdict(front_build, coil_front)
        assert found.verdict is Call.FITS
        assert found.money.total is not None
        # 850 + 24 mi x 0.45, as the person of the trade summed it up.
        assert found.money.total.likely == pytest.approx(860.8)

    def test_without_the_year_the_gears_are_not_known(
        self, front_build: Build, coil_front: Plain, verdict: Judge
    ) -> None:
        found = verdict(front_build, without(coil_front, "years"))
        assert found.verdict is Call.UNCLEAR
        assert state(found, "ratio_sold") is State.UNKNOWN
        assert any("model year" in asked.ask for asked in found.questions)

    def test_a_dually_fits_with_other_hubs(self, plain_front: Plain, coil_front: Plain, verdict: Judge) -> None:
        plain_front["work"]["price_usd"] = {"single-wheel-hubs": 600}
        dually = coil_front | {"rear_wheels": "dual", "bolt_circle_mm": 200.0}
        found = verdict(parse_build(plain_front), dually)
        assert found.verdict is Call.WITH_WORK
        assert {task.word for task in found.work if not task.planned} == {"single-wheel-hubs"}

    def test_late_gears_take_488_and_not_513(self, plain_front: Plain, coil_front: Plain, verdict: Judge) -> None:
        late = coil_front | {"years": (2018, 2018)}
        assert verdict(parse_build(plain_front), late).verdict is Call.NO
        plain_front["gearing"]["ratio"] = plain_front["front"]["must"]["ratio_sold"] = 4.56
        assert verdict(parse_build(plain_front), late).verdict is Call.FITS

    def test_a_regear_cures_only_where_the_set_is_sold(
        self, plain_front: Plain, coil_front: Plain, verdict: Judge
    ) -> None:
        must = plain_front["front"]["must"]
        del must["ratio_sold"]
        must["ratio"] = 5.13
        plain_front["work"] = {"accepted": ["regear"], "price_usd": {"regear": 700}}
        build = parse_build(plain_front)
        assert verdict(build, coil_front).verdict is Call.WITH_WORK
        assert verdict(build, coil_front | {"years": (2018, 2018)}).verdict is Call.NO
        undated = {k: v for k, v in coil_front.items() if k != "years"}
        assert verdict(build, undated).verdict is Call.UNCLEAR

    def test_a_refusal_for_money_alone_ends_with_a_higher_limit(
        self, plain_front: Plain, coil_front: Plain, verdict: Judge
    ) -> None:
        refused = verdict(parse_build(plain_front), coil_front, price=2400)
        assert refused.verdict is Call.NO
        assert refused.money.break_even_usd == pytest.approx(1800 - 10.8)
        plain_front["money"]["landed_limit_usd"] = 2500
        assert verdict(parse_build(plain_front), coil_front, price=2400).verdict is Call.FITS

    def test_at_the_break_even_price_the_no_becomes_a_yes(
        self, front_build: Build, coil_front: Plain, verdict: Judge
    ) -> None:
        even = verdict(front_build, coil_front, price=2400).money.break_even_usd
        assert even is not None
        assert verdict(front_build, coil_front, price=even).verdict is Call.FITS
        assert verdict(front_build, coil_front, price=even + 1).verdict is Call.NO

    def test_thirty_spline_outers_end_it_where_outer_shafts_are_refused(
        self, plain_front: Plain, coil_front: Plain, verdict: Judge
    ) -> None:
        early = coil_front | {"years": (2003, 2003), "suspension": "leaf"}
        assert verdict(parse_build(plain_front), early).verdict is Call.NO
        plain_front["work"]["refused"].remove("outer-shafts")
        plain_front["work"]["accepted"].append("outer-shafts")
        plain_front["work"]["price_usd"] = {"outer-shafts": 900}
        assert verdict(parse_build(plain_front), early).verdict is Call.WITH_WORK

    def test_a_statement_against_the_kind_is_not_known_unless_the_change_is_owned_up_to(
        self, front_build: Build, coil_front: Plain, verdict: Judge
    ) -> None:
        early = coil_front | {"years": (2003, 2003), "suspension": "leaf"}
        text = "35 spline outers"
        said = early | {"outer_splines": Fact("outer_splines", 35, Known.STATED, ((0, 16),))}
        assert verdict(front_build, said, text=text).verdict is Call.UNCLEAR
        owned = verdict(front_build, said, text=f"{text}, I put them in with matching hubs, have receipts")
        assert owned.verdict is Call.FITS

    def test_a_contradiction_the_other_way_is_unclear_too(
        self, front_build: Build, coil_front: Plain, verdict: Judge
    ) -> None:
        odd = coil_front | {"years": (2009, 2009), "outer_splines": 30}
        assert verdict(front_build, odd).verdict is Call.UNCLEAR

    def test_a_guess_makes_nothing_known(self, front_build: Build, coil_front: Plain, verdict: Judge) -> None:
        guess = coil_front | {"bolt_circle_mm": Fact("bolt_circle_mm", 170.0, Known.HEDGED)}
        found = verdict(front_build, without(guess, "rear_wheels"))
        assert found.verdict is Call.UNCLEAR
        assert state(found, "bolt_circle_mm") is State.UNKNOWN

    def test_what_follows_from_a_guess_is_a_guess(self, front_build: Build, coil_front: Plain, verdict: Judge) -> None:
        guess = coil_front | {"years": Fact("years", (2011, 2011), Known.HEDGED)}
        found = verdict(front_build, guess)
        assert found.verdict is Call.UNCLEAR
        assert state(found, "ratio_sold") is State.UNKNOWN
        assert found.chance < 0.95

    def test_both_of_two_bolt_circles_cannot_be(self, front_build: Build, coil_front: Plain, verdict: Judge) -> None:
        torn = [Fact("bolt_circle_mm", mm, Known.CONTRADICTED) for mm in (165.1, 170.0)]
        assert verdict(front_build, without(coil_front, "bolt_circle_mm") | {"bolt_circle_mm": torn}).verdict in {
            Call.UNCLEAR, Call.NO,
        }  # fmt: skip

    def test_what_it_fits_is_not_what_it_came_from(self, front_build: Build, coil_front: Plain, verdict: Judge) -> None:
        fits = without(coil_front, "years", "bolt_circle_mm", "rear_wheels") | {"fits_years": (2005, 2016)}
        assert verdict(front_build, fits).verdict is Call.UNCLEAR

    @pytest.mark.parametrize("offer", ["wanted", "sold", "trade"])
    def test_nothing_on_offer_does_not_fit(
        self, offer: str, front_build: Build, coil_front: Plain, verdict: Judge
    ) -> None:
        found = verdict(front_build, coil_front, offer=offer)
        assert found.verdict is Call.NO
        assert not found.questions

    def test_a_bent_one_ends_it_and_may_be_straightened_where_that_is_accepted(
        self, plain_front: Plain, coil_front: Plain, verdict: Judge
    ) -> None:
        bent = coil_front | {"defects": ["bent"]}
        assert verdict(parse_build(plain_front), bent).verdict is Call.NO
        plain_front["work"]["refused"].remove("straighten-housing")
        plain_front["work"]["accepted"].append("straighten-housing")
        assert verdict(parse_build(plain_front), bent, price=300).verdict is Call.WITH_WORK

    def test_perhaps_bent_is_not_known(self, front_build: Build, coil_front: Plain, verdict: Judge) -> None:
        perhaps = coil_front | {"defects": Fact("defects", "bent", Known.HEDGED)}
        assert verdict(front_build, perhaps).verdict is Call.UNCLEAR

    def test_no_price_named_is_a_question(self, front_build: Build, coil_front: Plain, verdict: Judge) -> None:
        found = verdict(front_build, coil_front, price=None)
        assert found.verdict is Call.UNCLEAR
        assert any("want for it" in asked.ask for asked in found.questions)

    def test_the_other_end_is_no_donor(self, front_build: Build, full_float_rear: Plain, verdict: Judge) -> None:
        found = verdict(front_build, full_float_rear)
        assert found.verdict is Call.NO
        assert found.reasons == ("front: a rear is on offer; the build wants a front",)

    def test_a_part_is_no_axle(self, front_build: Build, verdict: Judge) -> None:
        found = verdict(front_build, {"kind": "part", "part": "knuckle", "position": "front"})
        assert found.verdict is Call.NO
        assert "part" in found.reasons[0]

    def test_an_independent_front_is_refused_with_the_reason(
        self, front_build: Build, coil_front: Plain, verdict: Judge
    ) -> None:
        found = verdict(front_build, without(coil_front, "knuckle"), text="IFS front, torsion bars")
        assert found.verdict is Call.NO
        assert any("no solid housing" in reason for reason in found.reasons)
        swap = verdict(front_build, coil_front, text="ditch that IFS: solid axle")
        assert swap.verdict is Call.FITS

    def test_drop_is_asked_of_the_front_where_the_output_is_known(
        self, plain_front: Plain, coil_front: Plain, verdict: Judge
    ) -> None:
        del plain_front["front"]["must"]["drop"]
        plain_front["vehicle"]["front_output"] = "passenger"
        found = verdict(parse_build(plain_front), coil_front)
        assert found.verdict is Call.NO
        assert any("transfer case" in reason for reason in found.reasons)
        plain_front["computed"] = False
        assert verdict(parse_build(plain_front), coil_front).verdict is Call.FITS

    def test_wheels_too_small_for_the_brakes_end_it_unless_they_have_run(
        self, plain_front: Plain, coil_front: Plain, verdict: Judge
    ) -> None:
        plain_front["vehicle"]["wheel_dia_in"] = 15
        build = parse_build(plain_front)
        assert verdict(build, coil_front).verdict is Call.NO
        assert verdict(build, coil_front, text="truck ran 15 inch wheels").verdict is Call.FITS

    @pytest.mark.parametrize(("bore_in", "met"), [(0.5, State.FAILS), (1.5, State.MEETS)])
    def test_the_bore_settles_whether_two_pistons_are_fed(
        self, bore_in: float, met: State, plain_front: Plain, coil_front: Plain, verdict: Judge
    ) -> None:
        """Pascal: stroke = volume / area of the bore, both ends of the usual sizes; the sum stands in engineering."""
        del plain_front["vehicle"]["master_cylinder"]
        plain_front["vehicle"]["master_cylinder_bore_in"] = bore_in
        found = verdict(parse_build(plain_front), coil_front | {"caliper_pistons": 2})
        assert state(found, "brake_fluid_enough") is met


class TestPartsAndVehicles:
    def test_a_bare_housing_is_made_good_by_bought_parts(self, plain_builds: dict[str, Plain], verdict: Judge) -> None:
        housing = {
            "kind": "housing", "position": "front", "years": (2010, 2010), "load_class": "one-ton",
            "suspension": "coil", "rear_wheels": "single", "lugs": 8, "bolt_circle_mm": 170.0,
        }  # fmt: skip
        found = verdict(parse_build(plain_builds["S16"]), housing, price=250, miles=30)
        assert found.verdict is Call.WITH_WORK
        assert found.money.total is not None
        # 250 + 60 mi x 0.45 + shafts 750 + hubs 560 + brakes 380 of the builder's own price book.
        assert found.money.total.likely == pytest.approx(1967)

    def test_a_bare_housing_is_not_what_was_asked_where_only_axles_are(
        self, front_build: Build, coil_front: Plain, verdict: Judge
    ) -> None:
        assert verdict(front_build, coil_front | {"kind": "housing"}, price=50).verdict is Call.NO

    def test_of_drums_a_bare_rear_housing_lacks_no_discs(
        self, rear_build: Build, full_float_rear: Plain, verdict: Judge
    ) -> None:
        found = verdict(rear_build, full_float_rear | {"kind": "housing"})
        assert found.items[0].prospect
        assert set(absent(found.items[0].prospect)) >= {"brake-drum", "hub", "axle-shaft"}
        assert not {"caliper", "rotor"} & set(absent(found.items[0].prospect))

    def test_of_a_dually_rear_hubs_alone_make_no_single_one(
        self, plain_builds: dict[str, Plain], full_float_rear: Plain, verdict: Judge
    ) -> None:
        plain = copy.deepcopy(plain_builds["S11"])
        plain["work"] = {**plain["work"], "accepted": [*plain["work"]["accepted"], "single-wheel-hubs"], "refused": []}
        dual = full_float_rear | {"rear_wheels": "dual", "width_in": 72.0}
        assert verdict(parse_build(plain), dual).verdict is Call.NO
        plain["work"]["accepted"].append("change-width")
        plain["money"]["landed_limit_usd"] = 9000
        assert verdict(parse_build(plain), dual).verdict is Call.WITH_WORK

    def test_planned_work_brings_its_parts_along(self, front_build: Build, coil_front: Plain, verdict: Judge) -> None:
        bare = coil_front | {"missing": ["ring-and-pinion", "differential"]}
        assert verdict(front_build, bare).verdict is Call.FITS

    def test_missing_parts_are_bought_where_that_is_accepted(
        self, plain_front: Plain, coil_front: Plain, verdict: Judge
    ) -> None:
        bare = coil_front | {"missing": ["outer-shaft"]}
        assert verdict(parse_build(plain_front), bare).verdict is Call.WITH_WORK
        plain_front["work"]["accepted"].remove("buy-missing-parts")
        assert verdict(parse_build(plain_front), bare).verdict is Call.NO

    def test_a_whole_vehicle_is_a_donor_where_its_work_is_accepted(
        self, plain_builds: dict[str, Plain], coil_front: Plain, verdict: Judge
    ) -> None:
        truck = without(coil_front, "position", "knuckle") | {"kind": "vehicle"}
        found = verdict(parse_build(plain_builds["V06"]), truck, price=2500)
        assert found.verdict is Call.WITH_WORK
        assert {"pull-from-vehicle", "tow-home"} <= {task.word for task in found.work}
        assert verdict(parse_build(plain_builds["S01"]), truck, price=500).verdict is Call.NO


class TestHazards:
    @pytest.mark.parametrize(
        "text",
        [
            "truck was under water for a day",
            "housing was narrowed by the guy before me",
            "no viewing, send deposit to hold",
            "pay by gift card",
            "pieced together from several axles",
        ],
    )
    def test_a_hazard_of_unknown_size_is_unclear_at_best(
        self, text: str, front_build: Build, coil_front: Plain, verdict: Judge
    ) -> None:
        assert verdict(front_build, coil_front, text=text).verdict is Call.UNCLEAR

    @pytest.mark.parametrize(
        "text",
        ["never been in a flood", "not wrecked, never rolled over", "no deposit needed", "never narrowed"],
    )
    def test_a_hazard_denied_is_none(self, text: str, front_build: Build, coil_front: Plain, verdict: Judge) -> None:
        assert verdict(front_build, coil_front, text=text).verdict is Call.FITS

    def test_a_struck_donor_may_be_bent(self, front_build: Build, coil_front: Plain, verdict: Judge) -> None:
        found = verdict(front_build, coil_front, text="truck got rolled")
        assert found.verdict is Call.UNCLEAR
        assert state(found, "defects") is State.UNKNOWN


class TestPair:
    FRONT: Plain = {  # noqa: RUF012
        "kind": "axle", "position": "front", "knuckle": "kingpin", "drop": "driver", "inner_splines": 35,
        "outer_splines": 30, "ratio": 4.1, "lugs": 8, "bolt_circle_mm": 165.1, "width_in": 69.25,
        "load_class": "one-ton",
    }  # fmt: skip
    REAR: Plain = {  # noqa: RUF012
        "kind": "axle", "position": "rear", "cover_bolts": 14, "float": "full", "ring_gear_in": 10.5,
        "brakes": "drum", "ratio": 4.11, "rear_wheels": "single", "lugs": 8, "bolt_circle_mm": 165.1,
        "width_in": 67.5,
    }  # fmt: skip

    def test_tooth_pairs_that_agree_fit_together(self, pair_build: Build, verdict: Judge) -> None:
        found = verdict(pair_build, self.FRONT, self.REAR, price=1500, miles=48)
        assert found.verdict is Call.FITS
        # 41/10 against 37/9: 2 x |4.1 - 4.1111| / 8.2111 = 0.27 percent (arithmetic).
        assert any("0.27 percent" in finding.because for finding in found.pair)
        assert found.money.total is not None
        assert found.money.total.likely == pytest.approx(1543.2)

    def test_the_order_of_front_and_rear_changes_nothing(self, pair_build: Build, verdict: Judge) -> None:
        one = verdict(pair_build, self.FRONT, self.REAR, price=1500)
        other = verdict(pair_build, self.REAR, self.FRONT, price=1500)
        assert (one.verdict, one.money.total) == (other.verdict, other.money.total)
        assert one.chance == pytest.approx(other.chance)

    @pytest.mark.parametrize(
        ("front", "rear"),
        [({"bolt_circle_mm": 170.0}, {}), ({}, {"width_in": 64.0}), ({"ratio": 4.0}, {"ratio": 4.2})],
    )
    def test_ends_that_do_not_go_together_do_not_fit(
        self, front: Plain, rear: Plain, pair_build: Build, verdict: Judge
    ) -> None:
        found = verdict(pair_build, self.FRONT | front, self.REAR | rear, price=1500)
        assert found.verdict in {Call.NO, Call.UNCLEAR}

    def test_a_width_that_is_not_said_may_be_too_far_off(self, pair_build: Build, verdict: Judge) -> None:
        found = verdict(pair_build, without(self.FRONT, "width_in"), self.REAR, price=1500)
        assert found.verdict is Call.UNCLEAR

    def test_an_accepted_regear_makes_the_pair_agree(self, plain_builds: dict[str, Plain], verdict: Judge) -> None:
        build = parse_build(plain_builds["V59"])
        front = self.FRONT | {"years": (1989, 1989), "rear_wheels": "single"}
        rear = without(self.REAR, "width_in") | {"ratio": 3.73, "years": (1990, 1990)}
        found = verdict(build, front, rear, price=2200)
        assert found.verdict is Call.WITH_WORK
        assert [task.word for task in found.work if not task.planned] == ["regear"]

    def test_one_end_of_a_set_that_is_not_parted_is_no_help(self, pair_build: Build, verdict: Judge) -> None:
        semi = self.REAR | {"float": "semi", "ring_gear_in": 9.5, "years": (1990, 1990)}
        joined = verdict(pair_build, self.FRONT, semi, price=1500, text="will not split")
        assert joined.verdict is Call.NO
        apart = verdict(pair_build, self.FRONT, semi, price=700, price_terms="each")
        assert apart.verdict is Call.FITS
        assert [apart.items[place].end for place in apart.chosen] == ["front"]


def test_the_flat_form_is_what_programs_rely_on(front_build: Build, coil_front: Plain, verdict: Judge) -> None:
    found = verdict(front_build, coil_front)
    assert found.as_json().keys() == {"verdict", "chance", "reasons", "questions", "cost_usd"}
    item = found.items_json()[0]
    assert {"identification", "verdict", "chance", "reasons", "questions", "work", "cost_usd"} <= item.keys()
    assert all({"requirement", "state", "because"} <= reason.keys() for reason in item["reasons"])


def test_reasons_say_figure_and_basis(plain_front: Plain, coil_front: Plain, verdict: Judge) -> None:
    early = coil_front | {"years": (2003, 2003), "suspension": "leaf"}
    reason = verdict(parse_build(plain_front), early).reasons[0]
    assert "30" in reason
    assert "the build asks at least 35" in reason
    assert "common practice" in reason


@pytest.mark.parametrize(("accepted", "call"), [(["disc-conversion"], Call.WITH_WORK), ([], Call.UNCLEAR)])
def test_what_is_likely_to_fail_is_reckoned_with_where_work_is_accepted_for_it(
    accepted: list[str],
    call: Call,
    plain_builds: dict[str, dict[str, Any]],
    full_float_rear: dict[str, Any],
    verdict: Callable[..., ListingVerdict],
) -> None:
    """Drums by its years, and nobody says so: six in a hundred of them have been given discs by now."""
    plain = copy.deepcopy(plain_builds["S11"])
    plain["rear"]["must"]["bolt_circle_mm"] = 165.1
    plain["work"] = {"planned": ["regear", "new-differential"], "accepted": accepted}
    plain["money"]["landed_limit_usd"] = 3000
    del full_float_rear["brakes"]
    assert verdict(parse_build(plain), full_float_rear, price=300).verdict is call
