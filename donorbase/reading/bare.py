"""Step 12f: a bare housing, of which nothing needs to be called missing."""

from donorbase.reading.scan import Mark, Scan

_GUTS = frozenset({"axle-shaft", "carrier", "third-member", "ring-and-pinion", "differential"})


def _called_bare(scan: Scan, housing: Mark) -> bool:
    """``bare housing``, ``housing only``, ``bare 9 inch housing``."""
    around = [scan.key(k) for k in range(max(0, housing.begin - 4), housing.end + 2)]
    return any(
        key.startswith("bare") or key in ("only", "alone", "just the", "just") or key.endswith(" only")
        for key in around
    )


def bare_housing(scan: Scan) -> None:
    """A housing that is called bare needs no list of what is not in it."""
    if not any(m.attribute == "item" and m.value == "housing" and _called_bare(scan, m) for m in scan.marks):
        return
    if any(m.attribute == "item" and m.value == "axle" and m.live for m in scan.marks):
        return
    for mark in scan.marks:
        if mark.attribute == "missing" and mark.value in _GUTS and mark.live:
            mark.dropped = "bare"
