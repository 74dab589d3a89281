"""A part off one axle, onto another: yes, if, with parts, no, or not known, with the reasons.

What nobody wrote down is not known, and never becomes a yes. ``if`` is a yes that hangs on something to be looked at.
A no needs a row that says so, or figures of both axles that cannot go together.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from donorbase.facts import Value
from donorbase.reference.catalogue import Catalogue, Interchange, Variant
from donorbase.reference.parts import WHOLE, PartKind

FITS = ("yes", "if", "with parts", "no", "not known")
_HANGS = re.compile(r"\b(?:must|check|only|needs?|with the|along|differs?|match(?:es)?|unless|if|required)\b")
_ALIKE = 0.005
"""Two measures within half a percent of each other may be the same, measured or rounded otherwise: common practice."""
_GEARS = ("ring-and-pinion", "differential", "third-member")


@dataclass(frozen=True, slots=True)
class Fit:
    """Whether a part goes onto an axle: one of ``FITS``, on which side (None: either, or it has none), and why.

    ``cost_usd`` is what the parts it needs besides cost, low and high, where that is on record.
    """

    state: str
    side: str | None
    because: tuple[str, ...]
    cost_usd: tuple[float, float] | None = None


def fit_of(
    kind: PartKind, side: str | None, off: str | None, onto: str, catalogue: Catalogue, worn: Sequence[str] = ()
) -> Fit:
    """How a part of that kind and side, off a variant or family (None: not known), goes onto a variant or family.

    ``worn`` names what was measured on it and is out of its limit.
    """
    if worn:
        return Fit("no", side, tuple(f"measured out of its limit: {what}" for what in worn))
    sources, targets = variants_of(off, catalogue), variants_of(onto, catalogue)
    if not targets:
        return Fit("not known", side, (f"{onto} is not in the catalogue",))
    if kind.kind in (WHOLE, "housing", "other"):
        return Fit("not known", side, ("a whole axle is judged by `donorbase check`",) if kind.kind == WHOLE else ())
    if not any(kind.of_end(variant.family.position) for variant in targets):
        return Fit("no", side, (f"a {targets[0].family.position} axle has no {kind.kind}",))
    if not sources:
        return Fit("not known", side, ("the axle it is off is not known",))
    fits = [_between(kind, source, target, catalogue) for source in sources for target in targets]
    return _sided(_agreed(fits, off, onto), kind, side)


def variants_of(key: str | None, catalogue: Catalogue) -> tuple[Variant, ...]:
    """The variant of a key, or all of the family of that key; empty where there is neither."""
    if key and key in catalogue.variants:
        return (catalogue.variants[key],)
    return tuple(variant for variant in catalogue.variants.values() if variant.family.key == key)


def _agreed(fits: list[Fit], off: str | None, onto: str) -> Fit:
    """What all pairs of variants agree on; where they do not, it is not known."""
    if len({fit.state for fit in fits}) == 1:
        return fits[0]
    return Fit("not known", None, (f"it hangs on which variant of {off} and {onto} they are",))


def _sided(fit: Fit, kind: PartKind, side: str | None) -> Fit:
    if not kind.sided or fit.state in ("no", "not known"):
        return Fit(fit.state, side, fit.because, fit.cost_usd)
    if side is None:
        return Fit("not known", None, ("left or right is not told, and they differ", *fit.because), fit.cost_usd)
    return Fit(fit.state, side, (f"on the {side} side only", *fit.because), fit.cost_usd)


def _between(kind: PartKind, source: Variant, target: Variant, catalogue: Catalogue) -> Fit:
    found = _on_record(kind, source, target, catalogue)
    if found:
        return found[0] if len({f.state for f in found}) == 1 else Fit("not known", None, ("rows on record disagree",))
    if source.key == target.key:
        return _same_axle(kind)
    back = [fit for fit in _on_record(kind, target, source, catalogue) if fit.state in ("yes", "if")]
    if back:
        return _turned(back)
    differing = [told for name in kind.agree if (told := _differs(name, source, target))]
    if differing:
        return Fit("no", None, tuple(differing))
    return Fit("not known", None, (f"nothing is on record of a {kind.kind} of the one on the other",))


def _on_record(kind: PartKind, source: Variant, target: Variant, catalogue: Catalogue) -> list[Fit]:
    return [
        _of_row(row)
        for row in catalogue.interchange
        if row.kind == "fit" and row.part == kind.interchange and row.applies_to(source.key)
        if row.fits_onto(target.key)
    ]


def _turned(back: list[Fit]) -> Fit:
    """What rows of the other way round tell.

    What goes on as it is mates like the part it takes the place of, so that the two may change places; as nobody wrote
    that way down, it is to be looked at. What hangs on something that way round tells nothing of this one.
    """
    state = "if" if all(fit.state == "yes" for fit in back) else "not known"
    told = "on record is the other way round only: lay the two side by side before money depends on it"
    return Fit(state, None, (told, *back[0].because))


def _same_axle(kind: PartKind) -> Fit:
    if kind.kind in _GEARS:
        return Fit("if", None, ("the same kind of axle", "ratio and case split must match those of the axle"))
    if kind.kind in ("wheel", "driveshaft"):
        return Fit("not known", None, ("it goes with the truck, not with the axle",))
    return Fit("yes", None, ("the same kind of axle",))


def _of_row(row: Interchange) -> Fit:
    told = (row.condition, f"also needs: {row.parts_needed}" if row.parts_needed else "", row.note)
    because = (*filter(None, told), f"{row.id}, {row.confidence}: {row.basis}")
    if row.fits == "yes" and (row.confidence == "low" or _HANGS.search(row.condition)):
        if row.confidence == "low":
            because = ("told with low confidence: measure before money depends on it", *because)
        return Fit("if", None, because, row.cost_usd)
    return Fit(row.fits if row.fits in FITS else "not known", None, because, row.cost_usd)


def _differs(name: str, source: Variant, target: Variant) -> str:
    """What cannot go together, in words; empty where the two may agree, or are not surely known."""
    figures = [variant.figures.get(name) for variant in (source, target)]
    if any(figure is None or figure.confidence == "low" for figure in figures):
        return ""
    ours, theirs = source.all(name), target.all(name)
    if not ours or not theirs or any(_alike(a, b) for a in ours for b in theirs):
        return ""
    words = [" or ".join(str(value) for value in values) for values in (ours, theirs)]
    return f"{name} {words[0]} against {words[1]}"


def _alike(one: Value, other: Value) -> bool:
    if isinstance(one, float) and isinstance(other, float | int):
        return abs(one - other) <= _ALIKE * max(abs(one), abs(other))
    return one == other
