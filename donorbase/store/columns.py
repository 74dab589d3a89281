"""Which columns of the variant table hold an attribute: the one rule from attribute to column."""

from collections.abc import Mapping
from functools import cache

from donorbase.attributes import Attribute, Kind, of_scope


def columns_of(attribute: Attribute) -> tuple[str, ...]:
    """The columns of one attribute: two for a pair, none where an axle can hold several values at once.

    >>> from donorbase.attributes import attributes
    >>> columns_of(attributes()["years"]), columns_of(attributes()["gawr_lb"])
    (('years_first', 'years_last'), ('gawr_low_lb', 'gawr_high_lb'))
    """
    if attribute.many:
        return ()
    if attribute.kind is Kind.YEARS:
        return (f"{attribute.name}_first", f"{attribute.name}_last")
    if attribute.kind is Kind.RANGE:
        stem = attribute.name.removesuffix(f"_{attribute.unit}")
        return (f"{stem}_low_{attribute.unit}", f"{stem}_high_{attribute.unit}")
    return (attribute.name,)


@cache
def variant_columns() -> Mapping[str, tuple[str, ...]]:
    """The columns of every attribute of an axle, by attribute."""
    return {a.name: columns_of(a) for a in of_scope("axle")}
