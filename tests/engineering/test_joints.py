"""Universal joints against the formula of an encyclopaedia and the angles that driveline pages print."""

import pytest

from donorbase.engineering import joints
from donorbase.errors import BadInput
from donorbase.reference.load import load_catalogue


def test_extreme_ratios_at_30_degrees() -> None:
    # Question-and-answer page: cos 30° and 1/cos 30° in the two extreme positions.
    assert joints.speed_swing(30) == pytest.approx((0.8660, 1.1547), abs=5e-5)


@pytest.mark.parametrize(
    ("angle", "least", "most"),
    [
        (5, 0.9962, 1.0038),
        (10, 0.9848, 1.0154),
        (20, 0.9397, 1.0642),
        (37, 0.7986, 1.2521),
        (45, 0.7071, 1.4142),
    ],
)
def test_swing(angle: float, least: float, most: float) -> None:
    assert joints.speed_swing(angle) == pytest.approx((least, most), abs=6e-5)


@pytest.mark.parametrize(("turn", "speed"), [(0, 1.1547), (30, 1.0659), (45, 0.9897), (60, 0.9238), (90, 0.8660)])
def test_one_turn_at_30_degrees(turn: float, speed: float) -> None:
    assert joints.speed_ratio(30, turn) == pytest.approx(speed, abs=6e-5)


def test_series_from_two_readings() -> None:
    # 1.062 x 3.219 in is the 1310 (two joint-measuring guides).
    assert [s.name for s in joints.joint_series(1.063, 3.215)] == ["1310"]
    assert [s.name for s in joints.joint_series(1.186, 3.630)] == ["1350"]
    assert {s.name for s in joints.joint_series(1.188)} == {"1350", "1410", "steering axle, middle"}
    assert joints.joint_series(1.5) == ()
    with pytest.raises(BadInput):
        joints.joint_series(0)


def test_clips_tell_what_a_cap_alone_does_not() -> None:
    assert {s.name for s in joints.joint_series(1.188, clips="inside")} == {"steering axle, middle"}
    assert {s.name for s in joints.joint_series(1.188, clips="outside")} == {"1350", "1410"}
    # No length of inside clips is on record, so a length that is none of the others' does not shut them out.
    assert [s.name for s in joints.joint_series(1.375, 3.0)] == ["steering axle, large"]
    assert [s.name for s in joints.joint_series(1.375, 4.19, clips="inside")] == ["steering axle, large"]


def test_what_tells_series_apart() -> None:
    assert "clips" in joints.tells_apart(joints.joint_series(1.188))
    assert "--span" in joints.tells_apart(joints.joint_series(1.188, clips="outside"))
    assert joints.tells_apart(joints.joint_series(1.062, 3.219)) == ""
    assert joints.tells_apart(()) == ""


def test_two_sides_and_the_joint_between_them() -> None:
    one, other = joints.joint_series(1.062, 3.219), joints.joint_series(1.188, 3.625)
    assert "one joint" in joints.adapter_of(one, one)
    assert "1310 to 1350" in joints.adapter_of(one, other)
    assert "open" in joints.adapter_of(joints.joint_series(1.188), other)
    assert "unlike" in joints.adapter_of(one, joints.joint_series(1.375))
    assert "no series" in joints.adapter_of((), one)


def test_what_is_from_memory_says_so() -> None:
    assert {s.basis for s in joints.SERIES} == {"read", "from memory"}
    assert [s.name for s in joints.SERIES if s.basis == "read"] == ["1310"]


@pytest.mark.parametrize(
    ("rpm", "degrees"),
    [
        (5000, 3.25),
        (4500, 3.67),
        (4000, 4.25),
        (3500, 5.0),
        (3000, 5.83),
        (2500, 7.0),
        (2000, 8.67),
        (1500, 11.5),
    ],
)
def test_angle_by_speed(rpm: float, degrees: float) -> None:
    # A driveline page's table.
    assert joints.greatest_angle_deg(rpm) == pytest.approx(degrees)


def test_between_and_beyond_the_rows() -> None:
    assert joints.greatest_angle_deg(2250) == pytest.approx((7.0 + 8.67) / 2)
    assert joints.greatest_angle_deg(300) == 11.5
    with pytest.raises(BadInput):
        joints.greatest_angle_deg(6000)
    with pytest.raises(BadInput):
        joints.speed_swing(90)


def test_compound_angle() -> None:
    # Driveline installation manual: 2.15 and 2.50 degrees make 3.3.
    assert joints.working_angle_deg(2.5, 2.15) == pytest.approx(3.3, abs=0.05)


def test_series_from_memory_stay_as_they_are() -> None:
    sizes = {s.name: (s.cap_in, s.span_in) for s in joints.SERIES if s.span_in}
    assert sizes == {
        "1310": (1.062, 3.219),
        "1330": (1.062, 3.625),
        "1350": (1.188, 3.625),
        "1410": (1.188, 4.188),
        "1480": (1.375, 4.188),
        "1550": (1.375, 4.969),
    }


def test_axle_joints_are_those_of_the_catalogue() -> None:
    caps = {cap for v in load_catalogue().variants.values() for cap in v.all("joint_cap_in")}
    assert caps
    assert caps <= {s.cap_in for s in joints.SERIES if s.name.startswith("steering axle")}
