"""Involute splines of ANSI B92.1 (inch), 30° flat root, side fit: diameters, and counts by caliper.

With N teeth of diametral pitch P (teeth to an inch of pitch diameter), all in inches: pitch diameter N/P,
base diameter N cos 30° / P, major N+1, external minor N-1.35, internal major N+1.35, internal minor N-1, each
over P. The major diameter is the same for 30°, 37.5° and 45°, so the caliper check needs no pressure angle;
but two shafts of equal count and diameter need not mate. Fillet-root minors are not given: no source for them
was sure.
"""

import math
from dataclasses import dataclass

from donorbase.engineering.uncertainty import shares
from donorbase.errors import BadInput
from donorbase.reference.units import in_to_mm

SOURCE = "ANSI B92.1-1970 (R1993), 30° flat root side fit, as a handbook page prints it: (N+1)/P, (N-1.35)/P"
AXLE_PITCH = 24.0
"""Most axle shafts are 24/48 (common practice)."""

STANDARD_PITCHES = (2.5, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 40, 48, 64, 80, 128)
"""Diametral pitches of the standard (from memory beyond 2.5-48); stub pitch is twice that: 24/48."""

PITCH_AGREES, PITCH_LOOSE = 0.01, 0.02
"""Within 1 % the pitch is told; within 2 % the diameter is loose or the body was measured."""

NEVER_BY_COUNT = frozenset({10, 19})
"""Ten-tooth shafts are mostly straight-sided, nineteen-tooth stubs vary: the count gives no diameter."""

CALIPER_SD_IN = 0.015
"""One reading over the crests of a used shaft: caliper, rust, wear and cutting (common practice)."""

AXLE_COUNTS = range(23, 43)


@dataclass(frozen=True, slots=True)
class SplineDiameters:
    """Diameters of one spline in inches; ``minor_in`` is the root that carries the torque."""

    teeth: int
    pitch: float
    pitch_in: float
    base_in: float
    major_in: float
    minor_in: float
    internal_major_in: float
    internal_minor_in: float

    @property
    def major_mm(self) -> float:
        """The outside diameter in mm."""
        return in_to_mm(self.major_in)


@dataclass(frozen=True, slots=True)
class PitchReading:
    """The pitch that a count and an outside diameter give, and what that says.

    ``standard`` is the nearest standard pitch, ``off`` how far the reading lies from it as a share,
    ``agrees`` is ``yes``, ``loosely`` or ``no``.
    """

    pitch: float
    standard: float
    off: float
    agrees: str
    advice: str


@dataclass(frozen=True, slots=True)
class SplineCandidate:
    """A spline that a caliper reading can be, with its share of the odds."""

    teeth: int
    pitch: float
    major_in: float
    share: float


def spline_diameters(teeth: int, pitch: float = AXLE_PITCH) -> SplineDiameters:
    """Diameters in inches of an external spline and of its mate. Source: SOURCE."""
    if not 6 <= teeth <= 60 or not pitch > 0:
        raise BadInput(f"{teeth} teeth at pitch {pitch:g} is no shaft spline", "Counts lie between 6 and 60.")
    return SplineDiameters(
        teeth=teeth,
        pitch=pitch,
        pitch_in=teeth / pitch,
        base_in=teeth / pitch * math.cos(math.radians(30)),
        major_in=(teeth + 1) / pitch,
        minor_in=(teeth - 1.35) / pitch,
        internal_major_in=(teeth + 1.35) / pitch,
        internal_minor_in=(teeth - 1) / pitch,
    )


def read_pitch(teeth: int, outside_in: float) -> PitchReading:
    """Which standard pitch a counted spline of that outside diameter (inches) has: P = (N + 1) / diameter.

    35 teeth at 1.50 in are 24/48; 30 at 1.55 in are 20/40, at 1.29 in 24/48: the two do not interchange.
    """
    if not outside_in > 0:
        raise BadInput("the outside diameter must be above 0", "Measure over the crests, in inches.")
    pitch = (teeth + 1) / outside_in
    standard = min(STANDARD_PITCHES, key=lambda known: abs(known - pitch) / known)
    off = abs(standard - pitch) / standard
    agrees = "yes" if off <= PITCH_AGREES else "loosely" if off <= PITCH_LOOSE else "no"
    return PitchReading(pitch, float(standard), off, agrees, _pitch_advice(teeth, standard, agrees))


def spline_candidates(outside_in: float, sd_in: float = CALIPER_SD_IN) -> tuple[SplineCandidate, ...]:
    """Splines that an outside diameter (inches, ± sd) can be, likeliest first; those under 2 % are left out.

    Looks at 24/48 with 23-42 teeth and at the coarse 30-tooth 20/40 of heavy full-float rears. Empty where
    the reading lies more than four sd from all of them: then it is no such spline, or the shaft's body was
    measured.
    """
    if not sd_in > 0:
        raise BadInput("the reading's error must be above 0", "A caliper over used splines is good to 0.015 in.")
    known = [(teeth, AXLE_PITCH) for teeth in AXLE_COUNTS] + [(30, 20.0)]
    majors = [(teeth + 1) / pitch for teeth, pitch in known]
    if min(abs(outside_in - major) for major in majors) > 4 * sd_in:
        return ()
    odds = shares(outside_in, majors, sd_in)
    rows = [SplineCandidate(*spline, major, share) for spline, major, share in zip(known, majors, odds, strict=True)]
    return tuple(sorted((row for row in rows if row.share >= 0.02), key=lambda row: -row.share))


def _pitch_advice(teeth: int, standard: float, agrees: str) -> str:
    if teeth in NEVER_BY_COUNT:
        return "no diameter follows from this count: go by the measurement"
    if agrees == "yes":
        return f"{standard:g}/{2 * standard:g} pitch"
    if agrees == "loosely":
        return f"nearest {standard:g}/{2 * standard:g}, but off: a trade figure, or the body measured"
    return "no standard involute pitch: straight-sided, metric, or measured wrong"
