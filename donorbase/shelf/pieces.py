"""The pieces of an axle that is taken apart, each with what it is worth beside the others."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from donorbase.errors import BadInput, NotFound
from donorbase.reference.catalogue import Variant
from donorbase.reference.parts import PartKind, part_kinds
from donorbase.reference.shelf_words import SIDES
from donorbase.shelf.money import cents_of


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece, on one side where sides differ; what it is worth counts only beside the other pieces."""

    kind: PartKind
    side: str | None
    worth_cents: int


def pieces_of(
    asked: Sequence[str], without: Sequence[str], end: str, axles: Collection[Variant] = ()
) -> tuple[Piece, ...]:
    """The pieces named as ``KIND[:SIDE][=USD]``; none named: all that an axle of that end has, less ``without``.

    ``axles`` are the variants that it may be: hubs and spindles or unit bearings, discs or drums, as all of them have.

    A pair of unlike sides is one left and one right. NotFound or BadInput where a piece cannot be.
    """
    for word in without:
        _kind(word)
    if asked:
        found = tuple(piece for text in asked for piece in _named(text))
    else:
        if not end:
            raise BadInput("it is not known whether it is a front or a rear", "Name its pieces, or set its --axle.")
        kinds = [k for k in part_kinds().values() if k.of_end(end) and k.share_usd and _is_there(k, axles)]
        found = tuple(piece for kind in kinds if kind.kind not in without for piece in _of_kind(kind))
    if not found or not any(piece.worth_cents for piece in found):
        raise BadInput("no piece is worth anything", "Name pieces, or what they are worth: knuckle:left=60.")
    return found


_NOT_OF_EVERY = ("third-member", "hub", "spindle", "brake-drum", "backing-plate", "tone-ring", "abs-sensor", "wheel",
                 "driveshaft", "track-bar", "locking-hub")  # fmt: skip
"""What many axles do not have, or what goes with the truck: a piece only where it is named."""


def _is_there(kind: PartKind, axles: Collection[Variant]) -> bool:
    """Whether such a piece is taken to be on the axle: as its variants have it, else as axles of its end mostly do."""
    known = {kind.is_on(variant) for variant in axles} if kind.only else set()
    if len(known) == 1 and None not in known:
        return known == {True}
    return kind.kind not in _NOT_OF_EVERY


def _of_kind(kind: PartKind) -> tuple[Piece, ...]:
    worth = (kind.share_usd or 0) * 100
    return tuple(Piece(kind, side, worth) for side in (SIDES if kind.sided else (None,) * kind.per_axle))


def _named(text: str) -> tuple[Piece, ...]:
    words, _, usd = text.partition("=")
    word, _, side = words.strip().partition(":")
    kind = _kind(word)
    if side and side not in SIDES:
        raise BadInput(f"{side!r} is no side", f"Sides: {', '.join(SIDES)}; for instance knuckle:left.")
    worth = cents_of(usd) if usd else (kind.share_usd or 0) * 100
    return (Piece(kind, side or None, worth),)


def _kind(word: str) -> PartKind:
    if word not in part_kinds():
        raise NotFound(f"there is no kind of part {word!r}", "`donorbase part kinds` lists them.")
    return part_kinds()[word]
