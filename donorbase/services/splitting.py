"""An axle of the shelf taken apart, its cost shared among its pieces by value; pieces put together to an axle."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from donorbase.errors import BadInput
from donorbase.identity.observations import observe
from donorbase.reference.parts import WHOLE, PartKind, part_kinds
from donorbase.reference.shelf_words import FREE
from donorbase.services.house import House
from donorbase.services.hunting import Occasion
from donorbase.services.promising import Taking, free_part, take_part
from donorbase.services.pulling import Pulled, checked_fields, put_on_shelf
from donorbase.services.remembering import what_stands
from donorbase.services.shelf import FIELDS, Part, find_part
from donorbase.shelf.fits import variants_of
from donorbase.shelf.money import shares
from donorbase.shelf.pieces import Piece, pieces_of
from donorbase.shelf.remembered import under
from donorbase.store import shelf as stored

if TYPE_CHECKING:
    from donorbase.store.engine import Connection


@dataclass(frozen=True, slots=True)
class Taken:
    """A part that was taken apart or put together, and its pieces."""

    whole: Part
    pieces: tuple[Part, ...]

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {"whole": self.whole.as_json(), "pieces": [piece.as_json() for piece in self.pieces]}


def split_part(
    house: House, tag: str, when: Occasion, *, asked: Sequence[str] = (), without: Sequence[str] = ()
) -> Taken:
    """Take a whole axle apart: each piece a part of its own, with its share of the cost; the shares add up to the cent.

    ``asked`` names the pieces as ``KIND[:SIDE][=USD]``, the value in place of what such a part fetches; left empty,
    all that axles of its end have, less those ``without``. What was measured of the axle goes along with the pieces
    that it was read off, its papers with all. Held where the axle is not free.
    """
    with house.keeping() as connection:
        whole = find_part(connection, tag)
        if whole.kind not in (WHOLE, "housing"):
            raise BadInput(f"part {whole.tag} is a {whole.kind}, which is not taken apart", "Name a whole axle.")
        pieces = pieces_of(asked, without, _end(house, whole), variants_of(whole.axle, house.catalogue()))
        costs = _costs(whole, pieces)
        whole = take_part(connection, whole, Taking("split"), when)
        told = {"axle": whole.axle, "year": whole.year, "miles": whole.miles, "place": whole.place}
        told |= {"candidate_id": whole.candidate_id, "condition": ""}
        saw, paper = (what_stands(connection, whole, subject) for subject in ("fact", "paper"))
        made = []
        for piece, cost in zip(pieces, costs, strict=True):
            fields = {**told, "kind": piece.kind.kind, "side": piece.side, "cost_cents": cost}
            about = under("fact", goes_along(piece.kind, saw)) | under("paper", paper)
            made.append(put_on_shelf(connection, fields, when, out_of=whole.id, about=about))
        return Taken(whole, tuple(made))


def goes_along(kind: PartKind, saw: Mapping[str, Any]) -> dict[str, Any]:
    """What was measured of an axle and is still so of a piece of that kind, as it was entered.

    An entry goes along where one of the piece's own facts would be gone without it: the teeth of ring and pinion
    together, studs with their number.
    """
    whole = _facts(saw) & set(kind.shows)
    return {name: value for name, value in saw.items() if whole - _facts({n: saw[n] for n in saw if n != name})}


def _facts(saw: Mapping[str, Any]) -> set[str]:
    return {fact.attribute for fact in observe(saw).facts}


def _end(house: House, whole: Part) -> str:
    catalogue = house.catalogue()
    family = catalogue.families.get(whole.family or "")
    return family.position if family else ""


def _costs(whole: Part, pieces: Sequence[Piece]) -> Sequence[int | None]:
    if whole.cost_cents is None:
        return [None] * len(pieces)
    return shares(whole.cost_cents, [piece.worth_cents for piece in pieces])


def rejoin(house: House, tag: str, when: Occasion) -> Taken:
    """Take a split back: the axle is whole again and its pieces are taken out. BadInput where a piece is not free."""
    with house.keeping() as connection:
        whole = find_part(connection, tag)
        if whole.state != "split":
            raise BadInput(
                f"part {whole.tag} was not taken apart", f"`donorbase part history {whole.tag}` shows what happened."
            )
        pieces = [piece for piece in _pieces(connection, whole) if piece.state != "removed"]
        gone = [piece for piece in pieces if piece.state != FREE]
        if gone:
            told = ", ".join(f"{piece.tag} is {piece.state}" for piece in gone)
            raise BadInput(f"part {whole.tag} cannot be made whole: {told}", "Release those pieces first.")
        taken = tuple(take_part(connection, piece, Taking("removed"), when) for piece in pieces)
        return Taken(free_part(connection, whole, when), taken)


def _pieces(connection: "Connection", whole: Part) -> list[Part]:
    return [find_part(connection, row["tag"]) for row in stored.list_parts(connection) if row["out_of"] == whole.id]


def assemble(house: House, axle: str | None, tags: Sequence[str], when: Occasion, *, place: str = "") -> Taken:
    """Put pieces together to an axle with a tag of its own, which costs what they cost; each piece is then held by it.

    Held where a piece is not free. The cost is not known where that of a piece is not.
    """
    if not tags:
        raise BadInput("no piece was named", "Name the tags of the pieces.")
    fields = {name: getattr(Pulled(WHOLE, axle=axle, place=place), name) for name in FIELDS}
    fields = checked_fields(house, fields, when.on.year)
    with house.keeping() as connection:
        pieces = [find_part(connection, tag) for tag in tags]
        _check_pieces(pieces)
        costs = [piece.cost_cents for piece in pieces]
        total = None if None in costs else sum(cost or 0 for cost in costs)
        whole = put_on_shelf(connection, {**fields, "cost_cents": total}, when)
        taking = Taking("assembled", into_part=whole.id)
        return Taken(whole, tuple(take_part(connection, piece, taking, when) for piece in pieces))


def apart(house: House, tag: str, when: Occasion) -> Taken:
    """Take an assembly back: its pieces are free again, and it is taken out. Held where the assembly is not free."""
    with house.keeping() as connection:
        whole = find_part(connection, tag)
        holds = [h for h in stored.read_holds(connection) if h["into_part"] == whole.id and h["ended_by"] is None]
        if not holds:
            raise BadInput(f"part {whole.tag} was not assembled here", "`donorbase part split` takes an axle apart.")
        whole = take_part(connection, whole, Taking("removed"), when)
        ids = {hold["part_id"] for hold in holds}
        pieces = [find_part(connection, row["tag"]) for row in stored.list_parts(connection) if row["id"] in ids]
        return Taken(whole, tuple(free_part(connection, piece, when) for piece in pieces))


def _check_pieces(pieces: Sequence[Part]) -> None:
    if len({piece.id for piece in pieces}) < len(pieces):
        raise BadInput("a piece is named twice", "Name each tag once.")
    for kind in part_kinds().values():
        ours = [piece for piece in pieces if piece.kind == kind.kind]
        sides = [piece.side for piece in ours if piece.side]
        if kind.kind != "other" and len(ours) > kind.per_axle:
            raise BadInput(f"{len(ours)} of {kind.kind} are named, an axle has {kind.per_axle}", "Leave some out.")
        if kind.sided and len(set(sides)) < len(sides):
            raise BadInput(f"two of {kind.kind} are of the {sides[0]} side", "One is of the other side.")
