"""Money of the shelf: whole cents, so that sums are exact and shares add up."""

import re
from collections.abc import Sequence
from decimal import Decimal, InvalidOperation

from donorbase.errors import BadInput

MOST_USD = 1_000_000
_OURS = re.compile(r"^(?:us\$|\$|usd\b)|(?:\busd|\$)$", re.IGNORECASE)


def cents_of(text: str) -> int:
    """Whole cents of an amount as people write it; BadInput where it is none.

    >>> cents_of("85"), cents_of("$1,200.50"), cents_of("40 USD")
    (8500, 120050, 4000)
    """
    plain = _OURS.sub("", text.strip()).replace(",", "").strip()
    try:
        amount = Decimal(plain) if plain.isascii() and len(plain) <= 20 else Decimal("NaN")
    except InvalidOperation:
        amount = Decimal("NaN")
    if not amount.is_finite() or not 0 <= amount <= MOST_USD or amount * 100 % 1:
        raise BadInput(
            f"{text!r} is no amount of money",
            f"Give US dollars from 0 to {MOST_USD:,}, with cents where there are any: 85 or 1200.50. Another currency "
            "is to be converted at that day's rate; note the sum you paid with --note.",
        )
    return int(amount * 100)


def usd_of(cents: int | None) -> str | None:
    """Dollars of whole cents, always with two decimals; None of None.

    >>> usd_of(120050)
    '1200.50'
    """
    return None if cents is None else f"{Decimal(cents) / 100:.2f}"


def shares(total_cents: int, weights: Sequence[int]) -> tuple[int, ...]:
    """A sum shared by weights in whole cents that add up to it exactly.

    Each share is the exact one rounded down, and the cents that are left go to the largest remainders, the first of
    equals first: no share is off by a cent or more. The method of largest remainders (Hamilton's).

    >>> shares(100_00, (1, 1, 1))
    (3334, 3333, 3333)
    """
    whole = sum(weights)
    if not weights or min(weights) < 0 or whole == 0 or total_cents < 0:
        raise ValueError("a sum is shared by weights of which none is negative and one is above nothing")
    parts = [divmod(total_cents * weight, whole) for weight in weights]
    left = total_cents - sum(share for share, _ in parts)
    first = sorted(range(len(parts)), key=lambda i: (-parts[i][1], i))[:left]
    return tuple(share + (i in first) for i, (share, _) in enumerate(parts))
