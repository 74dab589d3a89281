"""The sheet of hold points for fitting an axle, from a build, the axle, and what was measured under the vehicle."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from donorbase.errors import BadInput
from donorbase.reference.rules import fitup_rules, things_to_take
from donorbase.reference.units import parse_angle, parse_length
from donorbase.services.axle_at_hand import axles_at_hand
from donorbase.services.desk import Desk
from donorbase.services.near import near_keys
from donorbase.verdict.cautions import cautions_for
from donorbase.verdict.fitup import FitUp, Take, cases_of, fit_up, take_along
from donorbase.verdict.fitup_sums import MEASURES, POINTS, Measured
from donorbase.verdict.prospect import Prospect
from donorbase.verdict.spec import Build


def fit_up_sheet(
    desk: Desk,
    build: Build,
    *,
    variants: Iterable[str] = (),
    text: str = "",
    saw: Mapping[str, Any] | None = None,
    measured: Mapping[str, str] | None = None,
) -> FitUp:
    """The hold points and cautions of the axles told, or of the ends that the build wants where none is told.

    ``measured`` is by the names of ``MEASURES`` and ``POINTS``, written as people do. NotFound for a mistyped key;
    BadInput for what cannot be used, and where two axles are told for one end.
    """
    axles = _axles(desk, build, tuple(variants), text, saw or {})
    taken = measured_from(measured or {})
    cautions = cautions_for(cases_of(build, axles), "fitup")
    return replace(fit_up(build, axles, taken, fitup_rules()), cautions=cautions)


def things_along(
    desk: Desk, build: Build, *, variants: Iterable[str] = (), text: str = "", saw: Mapping[str, Any] | None = None
) -> tuple[Take, ...]:
    """What is worth taking from the donor of the axles told; of the ends that the build wants where none is told."""
    return take_along(build, _axles(desk, build, tuple(variants), text, saw or {}), things_to_take())


def measured_from(given: Mapping[str, str]) -> Measured:
    """Measurements as written; BadInput names the near ones of a name that is none."""
    figures: dict[str, float] = {}
    points: dict[str, tuple[float, float]] = {}
    for name, text in given.items():
        if name in POINTS:
            points[name] = _point(name, text)
        elif name in MEASURES:
            figures[name] = _figure(name, text)
        else:
            near = near_keys(name, [*MEASURES, *POINTS])
            hint = f"Near it: {', '.join(near)}." if near else f"There are {', '.join([*MEASURES, *POINTS])}."
            raise BadInput(f"nothing under the vehicle is called {name!r}", hint)
    return Measured(figures, points)


def _figure(name: str, text: str) -> float:
    try:
        return (parse_angle if name.endswith("_deg") else parse_length)(text)
    except BadInput as wrong:
        raise BadInput(f"{name}: {wrong.what}", wrong.next_step) from None


def _point(name: str, text: str) -> tuple[float, float]:
    across, comma, up = text.partition(",")
    if not comma:
        raise BadInput(f"{name}: {text!r} is no point", f"Write {POINTS[name]} as ACROSS,UP in inches: 12.5,24.")
    return _figure(name, across), _figure(name, up)


def _axles(
    desk: Desk, build: Build, variants: tuple[str, ...], text: str, saw: Mapping[str, Any]
) -> dict[str, Prospect | None]:
    if not (variants or text or saw):
        return dict.fromkeys(build.wants)
    given = [(variant, "") for variant in variants] or [("", text)]
    found: dict[str, Prospect | None] = {}
    for variant, listing in given:
        for axle in axles_at_hand(desk, variant, listing, saw):
            if variant and axle.end in found:
                raise BadInput(f"two axles are named for the {axle.end}", "Name one for each end.")
            found.setdefault(axle.end, axle)
    return found
