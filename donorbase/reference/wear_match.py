"""Which wear points speak of a variant: the words of ``applies_to`` against its figures.

A point is left out only where a known figure of the variant contradicts its words; where a figure is not
known the point stands, since measuring too much does no harm. The words are shown beside the point.
"""

import re
from collections.abc import Callable

from donorbase.reference.catalogue import Variant, WearPoint

_RING_GEAR = re.compile(r"(?<![\d.])(\d{1,2}\.\d{1,3})(?=(?:-in\b|-\s|\s|\)|,|/|$))")
_DRUM_SIZE = re.compile(r"(\d{1,2}(?:\.\d+)?)-in(?= rear drums)")
_LINE = re.compile(r"\bline-[A-Z]\b")

_RING_GEAR_SLACK_IN = 0.05
_DRUM_SLACK_IN = 0.1

# Words, with the attribute they speak of and the values of which one must be among those fitted.
_WORDS: tuple[tuple[str, str, tuple[object, ...]], ...] = (
    (r"\bdisc", "brakes", ("disc",)),
    (r"\bdrums\b(?! inside)", "brakes", ("drum",)),
    (r"full-float", "float", ("full",)),
    (r"semi-float|c-clip", "float", ("semi",)),
    (r"ball-joint", "knuckle", ("ball-joint",)),
    (r"kingpin(?! and)", "knuckle", ("kingpin",)),
    (r"bolt-in hubs", "hub_bearing", ("unit-bearing",)),
    (r"serviceable", "hub_bearing", ("serviceable",)),
    (r"locking-hub", "hubs", ("manual-locking", "automatic-locking", "locking")),
    (r"\bleaf\b", "suspension", ("leaf",)),
    (r"\babs\b", "abs", (True,)),
)


def wear_of(points: tuple[WearPoint, ...], variant: Variant) -> tuple[WearPoint, ...]:
    """The wear points that may speak of a variant, in the order of the list."""
    return tuple(point for point in points if applies(point, variant))


def applies(point: WearPoint, variant: Variant) -> bool:
    """Whether nothing that is known of the variant contradicts what the point says it is for."""
    words = point.applies_to.casefold()
    return all(check(words, variant) for check in _CHECKS) and _lines(point.applies_to, variant)


def _end(words: str, variant: Variant) -> bool:
    ends = {end for end in ("front", "rear") if re.search(rf"\b{end}s?\b", words)}
    return len(ends) != 1 or variant.family.position in ends


def _lines(words: str, variant: Variant) -> bool:
    named, known = _named_lines(words), variant.all("donor_line")
    return not named or not known or bool(named & set(known))


def _named_lines(words: str) -> set[str]:
    return set(_LINE.findall(words)) | ({"military"} if "military twin" in words else set())


def _military(words: str, variant: Variant) -> bool:
    """Double-reduction and portal axles are spoken of by the truck's tons, which no other axle is."""
    tons = re.search(r"2 1/2-ton|5-ton", words)
    military = bool(tons) or "double-reduction" in words or "portal" in words
    if not military:
        return True
    if "portal" in words:
        return "independent" in variant.family.key
    key_part = {"2 1/2-ton": "2.5t", "5-ton": "5t"}.get(tons[0] if tons else "", "")
    return "double-reduction" in variant.family.key and (not key_part or variant.key.endswith(f"-{key_part}"))


def _load_class(words: str, variant: Variant) -> bool:
    named, known = _named_classes(words), variant.all("load_class")
    return not named or not known or bool(named & set(known))


def _named_classes(words: str) -> set[str]:
    return {
        load
        for load, sign in (
            ("half-ton", r"(?<!-)\bhalf-"),
            ("three-quarter-ton", r"three-quarter"),
            ("one-ton", r"\bone-ton"),
            ("over-one-ton", r"class [45]"),
        )
        if re.search(sign, words)
    }


def _ring_gear(words: str, variant: Variant) -> bool:
    sizes = [float(size) for size in _RING_GEAR.findall(_DRUM_SIZE.sub("", words))]
    known = variant.all("ring_gear_in")
    # A stretch of sizes ("7.2- to 11.5-in") and a list with other things in it are no single sizes.
    if not sizes or not known or " to " in words or "8x" in words:
        return True
    return any(abs(float(str(k)) - size) <= _RING_GEAR_SLACK_IN for k in known for size in sizes)


def _drum_size(words: str, variant: Variant) -> bool:
    sizes, known = _DRUM_SIZE.findall(words), variant.all("drum_dia_in")
    return not sizes or not known or any(abs(float(str(k)) - float(s)) <= _DRUM_SLACK_IN for k in known for s in sizes)


def _by_words(words: str, variant: Variant) -> bool:
    for sign, name, wanted in _WORDS:
        known = variant.all(name)
        if known and re.search(sign, words) and not set(known) & set(wanted):
            return False
    return True


def _years(words: str, variant: Variant) -> bool:
    spans = _named_years(words)
    known = variant.get("years")
    if not spans or not isinstance(known, tuple):
        return True
    first, last = known[0] or 0, known[1] or 9999
    return any(first <= end and begin <= last for begin, end in spans)


def _named_years(words: str) -> list[tuple[int, int]]:
    decades = [(int(decade), int(decade) + 9) for decade in re.findall(r"\b((?:19|20)\d0)s\b", words)]
    return decades + [(int(a), int(b)) for a, b in re.findall(r"\b((?:19|20)\d\d)-((?:19|20)\d\d)\b", words)]


def _disconnect(words: str, variant: Variant) -> bool:
    # Nothing said of a disconnect is nothing known: only some of the variants are known to have one.
    return "disconnect" not in words or variant.family.position == "front"


_CHECKS: tuple[Callable[[str, Variant], bool], ...] = (
    _end, _military, _load_class, _ring_gear, _drum_size, _by_words, _years, _disconnect,
)  # fmt: skip


_NAMED: tuple[tuple[re.Pattern[str], str], ...] = (
    (_DRUM_SIZE, "drum_dia_in"),
    (_RING_GEAR, "ring_gear_in"),
    *((re.compile(sign), name) for sign, name, _ in _WORDS),
)


def is_general(point: WearPoint) -> bool:
    """Whether a point is for all parts of its kind, whatever axle they are off."""
    return point.applies_to.casefold().startswith("all")


def surely_applies(point: WearPoint, variant: Variant | None) -> bool:
    """Whether a point speaks of a part off that variant beyond doubt: each thing its words name is known and agrees.

    ``applies`` lets pass what is not known, which is right for what to measure; to judge by a limit takes more. Of a
    variant that comes from several donor lines or load classes, all must be named. Of a part off an axle that is not
    known only the general points speak.
    """
    if is_general(point) or variant is None:
        return is_general(point)
    words = point.applies_to.casefold()
    named = [name for sign, name in _NAMED if sign.search(words)]
    lines, classes, spans = _named_lines(point.applies_to), _named_classes(words), _named_years(words)
    if not (named or lines or classes or spans or words.startswith("most")):
        return False
    return applies(point, variant) and (
        all(variant.all(name) for name in named)
        and all(
            not asked or (bool(variant.all(name)) and set(variant.all(name)) <= asked)
            for name, asked in (("donor_line", lines), ("load_class", classes))
        )
        and (not spans or _within(variant, spans))
    )


def _within(variant: Variant, spans: list[tuple[int, int]]) -> bool:
    known = variant.get("years")
    if not isinstance(known, tuple) or None in known:
        return False
    return any(begin <= known[0] and known[1] <= end for begin, end in spans)
