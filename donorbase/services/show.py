"""One axle in full: every figure with its basis, what fits, converts, wears, and what to look for."""

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any

from donorbase.attributes import Attribute, of_scope
from donorbase.errors import NotFound
from donorbase.facts import Value
from donorbase.reference.catalogue import (
    Catalogue,
    DonorLine,
    Family,
    Figure,
    GearSet,
    Interchange,
    SightNote,
    Variant,
    WearPoint,
)
from donorbase.reference.wear_match import wear_of
from donorbase.services.house import House
from donorbase.services.near import near_keys


@dataclass(frozen=True, slots=True)
class ShownFigure:
    """A figure beside its attribute: title, values in the attribute's unit, confidence and basis."""

    attribute: str
    title: str
    unit: str
    values: tuple[Value, ...]
    confidence: str
    basis: str


@dataclass(frozen=True, slots=True)
class VariantPage:
    """All that is known of a variant.

    ``fits``: its parts that go, or do not go, onto others. ``takes``: parts of others that go, or do not go,
    onto it. ``conversions`` have cost in USD and hours; ``not_known`` can be measured and has no figure.
    """

    key: str
    title: str
    family: Family
    figures: tuple[ShownFigure, ...]
    not_known: tuple[str, ...]
    gear_set: GearSet | None
    fits: tuple[Interchange, ...]
    takes: tuple[Interchange, ...]
    conversions: tuple[Interchange, ...]
    available: tuple[Interchange, ...]
    wear: tuple[WearPoint, ...]
    notes: tuple[str, ...]
    brake_note: str
    hub_note: str

    def as_json(self) -> dict[str, Any]:
        """Everything on the page as plain data."""
        return {
            "variant": self.key,
            "title": self.title,
            "family": family_json(self.family),
            "figures": [asdict(figure) for figure in self.figures],
            "not_known": list(self.not_known),
            "gear_set": asdict(self.gear_set) if self.gear_set else None,
            **{name: _plain(getattr(self, name)) for name in ("fits", "takes", "conversions", "available", "wear")},
            "notes": list(self.notes),
            "brake_note": self.brake_note,
            "hub_note": self.hub_note,
        }


@dataclass(frozen=True, slots=True)
class FamilyPage:
    """A family and its variants, each as (key, title)."""

    family: Family
    figures: tuple[ShownFigure, ...]
    variants: tuple[tuple[str, str], ...]

    def as_json(self) -> dict[str, Any]:
        """Everything on the page as plain data."""
        return {
            "family": family_json(self.family),
            "figures": [asdict(figure) for figure in self.figures],
            "variants": [{"variant": key, "title": title} for key, title in self.variants],
        }


@dataclass(frozen=True, slots=True)
class LinePage:
    """A donor line as a person sees it, and the variants that come from it, each as (key, title).

    ``notes`` are of all lines: what to look at first, and the traps.
    """

    line: DonorLine
    variants: tuple[tuple[str, str], ...]
    notes: tuple[SightNote, ...]

    def as_json(self) -> dict[str, Any]:
        """Everything on the page as plain data."""
        return {
            "line": self.line.key,
            "sights": [{"heading": heading, "text": text} for heading, text in self.line.sights],
            "basis": self.line.basis,
            "notes": [asdict(note) for note in self.notes],
            "variants": [{"variant": key, "title": title} for key, title in self.variants],
        }


@dataclass(frozen=True, slots=True)
class GearSetPage:
    """A gear set with the ratios sold for it, and the variants that have it, each as (key, title)."""

    gear_set: GearSet
    variants: tuple[tuple[str, str], ...]

    def as_json(self) -> dict[str, Any]:
        """Everything on the page as plain data."""
        listed = [{"variant": key, "title": title} for key, title in self.variants]
        return {"gear_set": asdict(self.gear_set), "variants": listed}


Page = VariantPage | FamilyPage | LinePage | GearSetPage


def show(key: str, house: House) -> Page:
    """The page of a variant, family, donor line or gear set; NotFound names the keys near a mistyped one."""
    catalogue = house.catalogue()
    key = existing_key(key, catalogue)
    if key in catalogue.variants:
        return _variant_page(catalogue.variants[key], catalogue)
    if key in catalogue.families:
        family = catalogue.families[key]
        figures = _shown(family.figures.values())
        return FamilyPage(family, figures, _listed(v for v in catalogue.variants.values() if v.family is family))
    if key in catalogue.lines:
        having = (v for v in catalogue.variants.values() if key in v.all("donor_line"))
        return LinePage(catalogue.lines[key], _listed(having), catalogue.sight_notes)
    having = (v for v in catalogue.variants.values() if key in v.all("gear_set"))
    return GearSetPage(catalogue.gear_sets[key], _listed(having))


def existing_key(typed: str, catalogue: Catalogue) -> str:
    """The key as it is written in the catalogue; NotFound names those near a mistyped one."""
    keys = [*catalogue.variants, *catalogue.families, *catalogue.lines, *catalogue.gear_sets]
    same = [key for key in keys if key.casefold() == typed.strip().casefold()]
    if same:
        return same[0]
    near = near_keys(typed, keys, limit=5)
    hint = f"Near it: {', '.join(near)}." if near else "`donorbase find` lists the variants there are."
    raise NotFound(f"there is no axle, donor line or gear set {typed!r}", hint)


def _listed(variants: Iterable[Variant]) -> tuple[tuple[str, str], ...]:
    return tuple((variant.key, variant.title) for variant in variants)


def _shown(figures: Iterable[Figure]) -> tuple[ShownFigure, ...]:
    known = {figure.attribute: figure for figure in figures}
    return tuple(
        ShownFigure(a.name, a.title, a.unit, f.values, f.confidence, f.basis)
        for a in of_scope("axle")
        if (f := known.get(a.name))
    )


def _variant_page(variant: Variant, catalogue: Catalogue) -> VariantPage:
    ours = [row for row in catalogue.interchange if row.applies_to(variant.key)]
    fitted = {row.id for row in ours if row.kind == "fit"}
    return VariantPage(
        key=variant.key,
        title=variant.title,
        family=variant.family,
        figures=_shown(variant.figures.values()),
        not_known=tuple(a.name for a in _attributes_of(variant) if a.name not in variant.figures),
        gear_set=catalogue.gear_sets.get(str(variant.get("gear_set"))),
        fits=tuple(row for row in ours if row.kind == "fit"),
        takes=tuple(
            row
            for row in catalogue.interchange
            if row.kind == "fit" and row.id not in fitted and row.fits_onto(variant.key)
        ),
        conversions=tuple(row for row in ours if row.kind == "conversion"),
        available=tuple(row for row in ours if row.kind == "availability"),
        wear=wear_of(catalogue.wear, variant),
        notes=variant.notes,
        brake_note=variant.brake_note,
        hub_note=variant.hub_note,
    )


def _attributes_of(variant: Variant) -> Iterable[Attribute]:
    """What can be measured on such an axle."""
    return (a for a in of_scope("axle") if a.measurable and variant.family.position in a.ends)


def family_json(family: Family) -> dict[str, Any]:
    """A family as plain data, without its figures, which stand elsewhere on every page."""
    names = (name for name in Family.__slots__ if name != "figures")
    return {name: _plain(getattr(family, name)) for name in names}


def _plain(value: Any) -> Any:
    if isinstance(value, tuple):
        return [_plain(element) for element in value]
    return asdict(value) if isinstance(value, Interchange | WearPoint) else value
