"""Buy now, or wait for a lower price? The sum behind it; what to do is the buyer's own decision (F14).

Waiting wins ``saving`` where the thing is still there and costs ``dearer`` where it is gone and the next best must do.
Buy now if saving < P(gone by then) x (cost of the next best - cost now): expected values, algebra.
"""

from donorbase.errors import BadInput


def expected_gain_usd(saving_usd: float, chance_gone: float, dearer_usd: float) -> float:
    """What waiting brings on the average, in USD: below 0 buying now is the cheaper.

    The saving is won only where it is still there. ``dearer_usd`` is what the next best costs more than this one now.
    """
    if not 0 <= chance_gone <= 1:
        raise BadInput(f"{chance_gone:g} is no chance", "Give it from 0 to 1.")
    return (1 - chance_gone) * saving_usd - chance_gone * dearer_usd


def even_chance(saving_usd: float, dearer_usd: float) -> float | None:
    """The chance of its being gone at which waiting and buying now cost the same; None where waiting costs nothing.

    With saving s and the next best dearer by d it is s / (s + d).
    """
    if saving_usd <= 0:
        return 0.0
    return None if dearer_usd <= 0 else saving_usd / (saving_usd + dearer_usd)
