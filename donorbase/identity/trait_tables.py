"""The catalogue -> traits: for each attribute what each variant is likely to have.

Where a variant's figure is blank, what its family, its kind and its end make likely stands in for it, smoothed
so that nothing is impossible.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property

from donorbase.attributes import NUMBERS, Attribute, Kind, of_scope
from donorbase.facts import Value
from donorbase.identity.traits import ENDS, FIRST_YEAR, LAST_YEAR, Trait, Vector, figures_of, filled, mixed, usual
from donorbase.reference.catalogue import Catalogue, Variant
from donorbase.reference.odds import Priors, Rates

_EDGE = {1: 0.25, 2: 0.06, 3: 0.02}
"""Weight of a year so far outside a variant's range against one inside: titles and mid-year changes slip
(common practice: by half a year to a year)."""
_SMOOTH = 1.0
"""How many known relatives weigh as much as the wider kind."""
_SOLID_ONLY = frozenset({"suspension", "knuckle", "pinion"})
_SURELY_NOT = 0.9
"""A blank figure of an axle that has no beam (independent suspension) mostly means that it has no such
thing."""
_OTHER_GEARS = 0.25
"""Of changed ratios, those that the list of sold ones lacks: such lists are never whole (common practice)."""
_ANY_WIDTH = 0.6
"""Of changed widths, those that no axle of the catalogue has (common practice)."""
_PITCH = 24.0
_SPLINES_OF_PITCH = range(26, 51)
"""Shafts of 26 splines and more are 24-pitch as a rule: diameter (N + 1) / 24 in (ANSI B92.1)."""


def all_traits(catalogue: Catalogue, rates: Rates, priors: Priors) -> Mapping[str, Trait]:
    """A trait for every attribute of an axle whose value is not a range, each made when it is first asked for.

    Kept for the same catalogue and priors and what of the rates they rest on: two sets of rates of error share them.
    """
    rest_on = (catalogue, priors, rates.doubt, rates.changed_to)
    for known, traits in _KEPT:
        if all(one is other for one, other in zip(known, rest_on, strict=True)):
            return traits
    traits = _Traits(catalogue, rates, priors)
    _KEPT[:] = [*_KEPT[-3:], (rest_on, traits)]
    return traits


class _Traits(Mapping[str, Trait]):
    """Traits by their attributes' names."""

    def __init__(self, catalogue: Catalogue, rates: Rates, priors: Priors) -> None:
        wanted = (a for a in of_scope("axle") if a.kind not in (Kind.RANGE, Kind.TEXT) or a.name == "stud")
        self._wanted = {attribute.name: attribute for attribute in wanted}
        self._rest_on = tuple(catalogue.variants.values()), catalogue, rates, priors
        self._made: dict[str, Trait] = {}

    def __getitem__(self, name: str) -> Trait:
        if name not in self._made:
            self._made[name] = _Maker(self._wanted[name], *self._rest_on).trait()
        return self._made[name]

    def __contains__(self, name: object) -> bool:
        return name in self._wanted

    def __iter__(self) -> Iterator[str]:
        return iter(self._wanted)

    def __len__(self) -> int:
        return len(self._wanted)


_KEPT: list[tuple[tuple[object, ...], Mapping[str, Trait]]] = []


class _Maker:
    """Makes one trait; holds what the steps share."""

    def __init__(
        self,
        attribute: Attribute,
        variants: tuple[Variant, ...],
        catalogue: Catalogue,
        rates: Rates,
        priors: Priors,
    ) -> None:
        self.attribute, self.variants, self.catalogue = attribute, variants, catalogue
        self.rates, self.priors = rates, priors
        self.atoms = self._atoms()
        self.place = {atom: i for i, atom in enumerate(self.atoms)}
        self.own = [self._own(variant) for variant in variants]
        self.kinds = [_kind(attribute.name, variant) for variant in variants]
        self.flat = self._flat()
        self._stood_in: dict[tuple[str, Value | None], Vector] = {}
        self._sold_for: dict[Value | None, Vector] = {}

    def trait(self) -> Trait:
        table: dict[tuple[str, Vector], int] = {}
        likely = {end: self._smooth(self._of_end(end), self.flat, 2.0) for end in ENDS}
        factory, changed = [], []
        for variant, kind, own in zip(self.variants, self.kinds, self.own, strict=True):
            end = variant.family.position
            stand_in = self._stand_in(variant, kind, likely[end])
            base = stand_in if own is None else mixed(own, stand_in, self._doubt(variant))
            factory.append(table.setdefault((end, base), len(table)))
            other = self._changed_to(variant, likely[end])
            changed.append(table.setdefault((end, other), len(table)))
        return Trait(
            attribute=self.attribute,
            atoms=self.atoms,
            place=self.place,
            vectors=tuple(vector for _, vector in table),
            ends_of=tuple(end for end, _ in table),
            filled=tuple(filled(vector) for _, vector in table),
            usual=tuple(usual(vector) for _, vector in table),
            factory=tuple(factory),
            changed=tuple(changed),
            known=tuple(own is not None for own in self.own),
            broad={end: self._broad(end, likely[end]) for end in ENDS},
        )

    def _atoms(self) -> tuple[Value, ...]:
        attribute = self.attribute
        if attribute.kind is Kind.YEARS:
            return tuple(range(FIRST_YEAR, LAST_YEAR + 1))
        seen = {value for variant in self.variants for value in figures_of(attribute, variant)}
        seen.update(attribute.values, self._changed_values())
        if attribute.kind is Kind.FLAG:
            seen.update((True, False))
        if attribute.name == "ratio":
            seen.update(r for gears in self.catalogue.gear_sets.values() for r in gears.ratios_sold)
        if attribute.name == "shaft_dia_in":
            seen.update(self._by_pitch(variant) or 1.5 for variant in self.variants)
        return tuple(sorted(seen, key=str)) if attribute.kind not in NUMBERS else tuple(sorted(seen, key=_number))

    def _changed_values(self) -> Iterable[Value]:
        words = self.rates.changed_to.get(self.attribute.name, {})
        return (int(word) if self.attribute.kind is Kind.COUNT else word for word in words)

    def _vector(self, weights: Mapping[Value, float]) -> Vector:
        total = sum(weights.values())
        at = {self.place[value]: weight / total for value, weight in weights.items()}
        return tuple(at.get(i, 0.0) for i in range(len(self.atoms) + 2))

    def _there(self, end: str) -> bool:
        return end in self.attribute.ends or self.attribute.name == "splines"

    def _not_there(self) -> Vector:
        return (*(0.0,) * (len(self.atoms) + 1), 1.0)

    def _own(self, variant: Variant) -> Vector | None:
        if not self._there(variant.family.position):
            return self._not_there()
        if self.attribute.kind is Kind.YEARS:
            return self._years(variant)
        values = figures_of(self.attribute, variant)
        return self._vector(dict.fromkeys(values, 1.0)) if values else None

    def _years(self, variant: Variant) -> Vector | None:
        pair = variant.get("years")
        if not isinstance(pair, tuple):
            return None
        first, last = pair[0] or FIRST_YEAR, pair[1] or self._newest()
        return self._vector({
            year: self.priors.of_year(year) * _edge(max(first - year, year - last))
            for year in range(FIRST_YEAR, LAST_YEAR + 1)
        })  # fmt: skip

    def _newest(self) -> int:
        ends = (v.get("years") for v in self.variants)
        return max((pair[1] for pair in ends if isinstance(pair, tuple) and pair[1]), default=LAST_YEAR) + 2

    def _flat(self) -> Vector:
        n = len(self.atoms)
        closed = bool(self.attribute.values) or self.attribute.kind in (Kind.FLAG, Kind.YEARS, Kind.KEY)
        other = 0.0 if closed else 0.4
        return (*((1.0 - other) / max(n, 1),) * n, other, 0.0)

    def _of_end(self, end: str) -> list[Vector]:
        return [own for v, own in zip(self.variants, self.own, strict=True) if own and v.family.position == end]

    @cached_property
    def _alike(self) -> tuple[Mapping[tuple[str, Value | None], list[Vector]], ...]:
        """The vectors of known figures by end and kind, and by family and kind."""
        of_kind, of_family = defaultdict(list), defaultdict(list)
        for variant, kind, own in zip(self.variants, self.kinds, self.own, strict=True):
            if own is not None:
                of_kind[variant.family.position, kind].append(own)
                of_family[variant.family.key, kind].append(own)
        return of_kind, of_family

    def _smooth(self, known: list[Vector], wider: Vector, weight: float = _SMOOTH) -> Vector:
        return mixed(_mean(known), wider, weight / (len(known) + weight)) if known else wider

    def _stand_in(self, variant: Variant, kind: Value | None, of_end: Vector) -> Vector:
        key = variant.family.key, kind
        if key not in self._stood_in:
            of_kind, of_family = self._alike
            wider = self._smooth(of_kind.get((variant.family.position, kind), []), of_end)
            self._stood_in[key] = self._smooth(of_family.get(key, []), wider)
        found = self._stood_in[key]
        if not variant.family.donor_ok and self.attribute.name in _SOLID_ONLY:
            return mixed(found, self._not_there(), _SURELY_NOT)
        diameter = self._by_pitch(variant) if self.attribute.name == "shaft_dia_in" else None
        return mixed(found, self._vector({diameter: 1.0}), 0.8) if diameter else found

    def _by_pitch(self, variant: Variant) -> float | None:
        count = variant.get("splines") or variant.get("inner_splines")
        return round((count + 1) / _PITCH, 3) if isinstance(count, int) and count in _SPLINES_OF_PITCH else None

    def _doubt(self, variant: Variant) -> float:
        figure = variant.figures.get(self.attribute.name)
        # Years have soft edges of their own.
        if figure is None or self.attribute.kind is Kind.YEARS or not self._there(variant.family.position):
            return 0.0
        return self.rates.doubt.get(figure.confidence, 0.0)

    def _changed_to(self, variant: Variant, of_end: Vector) -> Vector:
        if not self._there(variant.family.position):
            return self._not_there()
        words = self.rates.changed_to.get(self.attribute.name)
        if words:
            return self._vector(dict(zip(self._changed_values(), words.values(), strict=True)))
        if self.attribute.name == "ratio":
            return self._sold(variant)
        # Hubs and brakes are swapped for those of another axle; a housing is narrowed to any width.
        return mixed(of_end, self.flat, _ANY_WIDTH) if self.attribute.name == "width_in" else of_end

    def _sold(self, variant: Variant) -> Vector:
        """Ratios that are sold for the variant's gear set, and some that the list lacks."""
        key = variant.get("gear_set")
        if key not in self._sold_for:
            gears = self.catalogue.gear_sets.get(str(key))
            own: dict[Value, float] = dict.fromkeys(gears.ratios_sold, 1.0) if gears else {}
            anywhere = self._sold_anywhere
            self._sold_for[key] = mixed(self._vector(own), anywhere, _OTHER_GEARS) if own else anywhere
        return self._sold_for[key]

    @cached_property
    def _sold_anywhere(self) -> Vector:
        return self._vector(Counter(r for g in self.catalogue.gear_sets.values() for r in g.ratios_sold))

    def _broad(self, end: str, likely: Vector) -> Vector:
        return mixed(likely, self.flat, 0.4) if self._there(end) else self._not_there()


def _mean(vectors: Sequence[Vector]) -> Vector:
    return tuple(sum(column) / len(vectors) for column in zip(*vectors, strict=True))


def _number(value: Value) -> float:
    return float(value) if isinstance(value, int | float) else 0.0


def _edge(years_outside: int) -> float:
    return 1.0 if years_outside <= 0 else _EDGE.get(years_outside, 0.0)


def _kind(name: str, variant: Variant) -> Value | None:
    """What a blank figure is likely to go with: the lugs for a bolt circle, else how heavy the truck is."""
    if name == "bolt_circle_mm":
        return variant.get("lugs")
    if name in ("stud", "hub_bore_mm"):
        return variant.get("bolt_circle_mm")
    if name == "shaft_dia_in":
        return variant.get("splines") or variant.get("inner_splines")
    classes = variant.all("load_class")
    return "light" if "half-ton" in classes else "heaviest" if "over-one-ton" in classes else "heavy"
