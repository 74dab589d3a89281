"""Universal joints: which series two caliper readings name, what angle a speed allows, what the angle does.

A single joint at angle b turns its output between cos b and 1/cos b of the input's speed, twice a turn;
torque goes the other way.
"""

import math
from dataclasses import dataclass

from donorbase.engineering.interpolation import between
from donorbase.engineering.uncertainty import likelihood
from donorbase.errors import BadInput

SOURCE = "w2/w1 = cos b/(1 - sin^2 b cos^2 q) (encyclopaedia article on the universal joint)"
SERIES_SOURCE = "1310 read in two joint-measuring guides, the other series from memory: measure before buying"
ANGLE_SOURCE = "angle by shaft speed: a driveline maker's chart, as two driveline pages print it"
CALIPER_SD_IN = 0.01


@dataclass(frozen=True, slots=True)
class JointSeries:
    """A series of joint: cap diameter, length across the caps (None where it varies by clip), and its use."""

    name: str
    cap_in: float
    span_in: float | None
    use: str
    basis: str

    @property
    def clips(self) -> str:
        """``outside`` or ``inside``: where the rings sit that hold the caps."""
        return "inside" if "inside" in self.use else "outside"


CLIPS = ("outside", "inside")
SERIES = (
    JointSeries("1310", 1.062, 3.219, "driveshaft, outside clips", "read"),
    JointSeries("1330", 1.062, 3.625, "driveshaft, outside clips", "from memory"),
    JointSeries("1350", 1.188, 3.625, "driveshaft, outside clips", "from memory"),
    JointSeries("1410", 1.188, 4.188, "driveshaft, outside clips", "from memory"),
    JointSeries("1480", 1.375, 4.188, "driveshaft, outside clips", "from memory"),
    JointSeries("1550", 1.375, 4.969, "driveshaft, outside clips", "from memory"),
    JointSeries("steering axle, small", 1.062, None, "front axle shaft, inside clips", "from memory"),
    JointSeries("steering axle, middle", 1.188, None, "front axle shaft, inside clips", "from memory"),
    JointSeries("steering axle, large", 1.375, None, "front axle shaft, inside clips", "from memory"),
)

# (shaft rpm, greatest angle in degrees)
_ANGLE_BY_RPM = (
    (1500, 11.5), (2000, 8.67), (2500, 7.0), (3000, 5.83), (3500, 5.0), (4000, 4.25), (4500, 3.67),
    (5000, 3.25),
)  # fmt: skip


def joint_series(
    cap_in: float, span_in: float | None = None, sd_in: float = CALIPER_SD_IN, clips: str | None = None
) -> tuple[JointSeries, ...]:
    """Series that the readings (inches) can be, best first: cap diameter, length across opposite caps.

    Both must lie within three sd. Without a length every series with such caps comes back. Of inside clips no length
    is on record: such series stay in play where the clips are told to be inside, or no other has such a length.
    Empty where none fits. Source: SERIES_SOURCE.
    """
    if not cap_in > 0 or (span_in is not None and not span_in > 0):
        raise BadInput("cap and length must be above 0", "Caliper across one cap, then across two opposite caps.")

    def fits(series: JointSeries) -> bool:
        if abs(series.cap_in - cap_in) > 3 * sd_in or (clips and series.clips != clips):
            return False
        return span_in is None or series.span_in is None or abs(series.span_in - span_in) <= 3 * sd_in

    def odds(series: JointSeries) -> float:
        span = likelihood(span_in, series.span_in, sd_in) if span_in and series.span_in else 1.0
        return likelihood(cap_in, series.cap_in, sd_in) * span

    found = sorted(filter(fits, SERIES), key=odds, reverse=True)
    by_length = [series for series in found if span_in is not None and series.span_in is not None]
    return tuple(by_length or found)


def tells_apart(found: tuple[JointSeries, ...]) -> str:
    """The reading that tells several series apart, in words; empty where one is left or none."""
    if len(found) < 2:
        return ""
    if len({series.clips for series in found}) > 1:
        return (
            "Look where the clips sit: in the yoke at the outer end of a cap (outside), or in a groove at its inner "
            "end, against the yoke (inside)."
        )
    return "Caliper the length across two opposite caps, clips off: --span."


def adapter_of(one: tuple[JointSeries, ...], other: tuple[JointSeries, ...]) -> str:
    """What joins two sides that were measured: one joint, an adapter joint, or what is open; a sentence."""
    names, others = ({series.name for series in side} for side in (one, other))
    if not names or not others:
        return "One of the two is of no series that we know: take both yokes along to the counter."
    if len(names) == len(others) == 1:
        a, b = next(iter(names)), next(iter(others))
        if a == b:
            return f"Both sides are {a}: one joint fits them."
        return f"The sides are {a} and {b}: ask for an adapter (combination) joint {a} to {b}, or change one yoke."
    if not names & others:
        return "The sides are of unlike series: an adapter joint, once each is told for sure."
    return "Whether both sides take one joint is open until each is told for sure."


def speed_ratio(angle_deg: float, turn_deg: float) -> float:
    """Output over input speed at a turn angle of the driving shaft; torque is one over it. Source: SOURCE."""
    angle, turn = math.radians(_angle(angle_deg)), math.radians(turn_deg)
    return math.cos(angle) / (1 - math.sin(angle) ** 2 * math.cos(turn) ** 2)


def speed_swing(angle_deg: float) -> tuple[float, float]:
    """Least and greatest output speed over input speed: cos b and 1/cos b. Torque swings the other way."""
    least = math.cos(math.radians(_angle(angle_deg)))
    return least, 1 / least


def greatest_angle_deg(rpm: float) -> float:
    """Greatest working angle in degrees of a driveshaft joint at a shaft speed, between the chart's rows.

    Below 1500 rpm the chart's first row holds. Keep it at 3 or less for smooth running, at least 0.5 so that
    the needles move, and the two ends within 1 of each other (the same pages). Source: ANGLE_SOURCE.
    """
    if not 0 < rpm <= _ANGLE_BY_RPM[-1][0]:
        raise BadInput(f"{rpm:g} rpm lies outside the chart", "It ends at 5000 rpm of the driveshaft.")
    if rpm <= _ANGLE_BY_RPM[0][0]:
        return _ANGLE_BY_RPM[0][1]
    return between(_ANGLE_BY_RPM, rpm)


def working_angle_deg(side_deg: float, top_deg: float = 0.0) -> float:
    """Working angle from those seen from the side and from above, for small ones: sqrt(side² + top²).

    Source: a driveline installation manual (2.15 and 2.50 degrees make 3.3).
    """
    return math.hypot(side_deg, top_deg)


def _angle(degrees: float) -> float:
    if not 0 <= degrees < 90:
        raise BadInput(
            f"a joint cannot work at {degrees:g} degrees", "Give the angle between the two shafts, under 90."
        )
    return degrees
