"""Step 1: the text as pasted -> plain text, with the way back to the offsets of the original.

Mends what copying from a browser or a phone does to an advert: HTML entities, UTF-8 read as Windows-1252, curly
quotes, dashes, fraction signs, full-width letters, control and invisible characters. Nothing of the meaning is
touched, and cleaning twice is cleaning once.
"""

import html
import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

_PLAIN = {
    **dict.fromkeys("‘’‚‛′´`ʹʼ＇", "'"),
    **dict.fromkeys("“”„‟″＂«»", '"'),
    **dict.fromkeys("‐‑‒–—―−－", "-"),
    **dict.fromkeys("×✕✖╳", "x"),
    **dict.fromkeys("•·●▪■◦‣★☆✔✅▶➤►", "•"),
    **dict.fromkeys("＆﹠", " and "),
    **dict.fromkeys("；＃", ","),
    "∅": " ", "⁄": "/", "…": "...", "º": "°", "\r": "\n", "\u2028": "\n", "\u2029": "\n", "\x0b": "\n", "\x0c": "\n",
    "\t": "\t", "\n": "\n", "€": "€", "£": "£",
}  # fmt: skip
_INVISIBLE = frozenset("\u200b\u200c\u200d\u2060\ufeff\u00ad\ufe0f")
# Chains of &amp;amp; fall together, so that a text escaped twice is mended in one pass.
_ENTITY = re.compile(r"&(?:amp;)*+(?:#[0-9]{1,6};|#x[0-9a-f]{1,5};|[a-z]{2,8}[0-9]{0,2};)?", re.IGNORECASE)
_FOREIGN = re.compile(r"[^\x09\x0a\x20-\x7e]+")
_MAY_FORM_ENTITY = frozenset("&#;")


@dataclass(frozen=True, slots=True)
class Clean:
    """Plain text; ``begins[i]`` and ``ends[i]`` are where its character i stood in the original.

    Both are None where nothing was changed.
    """

    text: str
    begins: tuple[int, ...] | None = None
    ends: tuple[int, ...] | None = None

    def original(self, begin: int, end: int) -> tuple[int, int]:
        """The span of the original that gave the characters ``begin`` to ``end`` of the plain text."""
        if self.begins is None or self.ends is None or begin >= end:
            return begin, end
        return self.begins[begin], self.ends[end - 1]


def clean(text: str) -> Clean:
    """The plain text of a listing. Linear in its length."""
    plain = Clean(text)
    if "&" in text:
        plain = _replaced(plain, _ENTITY, _entity)
    if not plain.text.isascii() or _FOREIGN.search(plain.text):
        plain = _replaced(plain, _FOREIGN, _mended)
        if "&" in plain.text:  # a full-width letter may have completed an entity
            plain = _replaced(plain, _ENTITY, _entity)
    return plain


def _entity(found: str) -> str:
    decoded = html.unescape("&" + found.rpartition("&")[2].replace("amp;", ""))
    if decoded.startswith("&"):
        return "&"
    # A decoded letter or semicolon could make a new entity with its neighbours, which a second pass would decode.
    return "".join(" " if c in _MAY_FORM_ENTITY or (c.isascii() and c.isalnum()) else c for c in decoded)


@lru_cache(maxsize=4096)
def _mended(run: str) -> str:
    previous = ""
    while run != previous:
        previous, run = run, _unscrambled(run)
    return "".join(map(_plain_character, run))


def _unscrambled(run: str) -> str:
    """UTF-8 that was read as Windows-1252, read again as what it is."""
    if not any(c in run for c in "ÂÃâÅ"):
        return run
    out, at = [], 0
    while at < len(run):
        size, char = _character(run, at)
        out.append(char)
        at += size
    return "".join(out)


def _character(run: str, at: int) -> tuple[int, str]:
    for size in (3, 2):
        try:
            char = run[at : at + size].encode("cp1252").decode("utf-8")
        except (UnicodeEncodeError, UnicodeDecodeError):
            continue
        if len(char) == 1:
            return size, char
    if run.startswith("â€", at):  # the third sign of a closing quote has no place in Windows-1252
        return (3 if run[at + 2 : at + 3] == "\x9d" else 2), '"'
    return 1, run[at]


@lru_cache(maxsize=4096)
def _plain_character(char: str) -> str:
    if char in _PLAIN:
        return _PLAIN[char]
    if char in _INVISIBLE:
        return ""
    category = unicodedata.category(char)
    if category in {"Cc", "Cf", "Co", "Cs", "Cn", "Zs", "Zl", "Zp"}:
        return " "
    # What a sign folds to may itself be one that is mended, as the dot of a dotted l.
    folded = "".join(_PLAIN.get(c, c) for c in unicodedata.normalize("NFKC", char))
    if category == "No" and "/" in folded:
        return " " + folded
    if len(folded) > 1:
        folded = f" {folded} "
    return " " if any(c in _MAY_FORM_ENTITY or c.isspace() for c in folded.strip()) else folded


def _replaced(plain: Clean, pattern: re.Pattern[str], mend: Callable[[str], str]) -> Clean:
    pieces: list[str] = []
    begins: list[int] = []
    ends: list[int] = []
    at = 0

    def keep(begin: int, end: int) -> None:
        pieces.append(plain.text[begin:end])
        begins.extend(plain.begins[begin:end] if plain.begins is not None else range(begin, end))
        ends.extend(plain.ends[begin:end] if plain.ends is not None else range(begin + 1, end + 1))

    for match in pattern.finditer(plain.text):
        keep(at, match.start())
        at = match.end()
        fresh = mend(match.group())
        begin, end = plain.original(match.start(), at)
        pieces.append(fresh)
        begins.extend([begin] * len(fresh))
        ends.extend([end] * len(fresh))
    keep(at, len(plain.text))
    return Clean("".join(pieces), tuple(begins), tuple(ends))
