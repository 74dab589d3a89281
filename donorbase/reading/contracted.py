"""Step 2c: ``the rear's sold`` -> ``rear`` ``is`` ``sold``: an end that something is told of has no plural."""

from donorbase.reading.tokens import Piece
from donorbase.reference.word_sets import word_set

_TOLD = word_set("told-with-is")
_POINTING = frozenset({"what", "that", "it", "who", "there", "he", "she", "here"})


def is_spelt_out(pieces: list[Piece]) -> list[Piece]:
    """The same pieces with ``'s`` as a word of its own where what is told of a thing follows."""
    out: list[Piece] = []
    for piece, following in zip(pieces, [*pieces[1:], None], strict=True):
        told = following is not None and following.key in _TOLD and piece.raw[:-2] not in _POINTING
        if not told or piece.kind != "word" or not piece.raw.endswith("'s") or "'" in piece.raw[:-2]:
            out.append(piece)
            continue
        cut = piece.end - len("'s")
        out += [
            Piece("word", piece.raw[:-2], piece.begin, cut, piece.glued),
            Piece("word", "is", cut, piece.end, True),
        ]
    return out
