"""The fields of a row of many listings -> a listing as it was seen, or the faults that keep it from being used."""

import math
import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any

from donorbase.errors import BadInput
from donorbase.services.intake import MAX_CHARACTERS
from donorbase.services.keeping import Seen

FIELDS: Mapping[str, tuple[str, ...]] = {
    "text": ("text", "description", "body", "listing", "ad", "advert"),
    "title": ("title", "subject", "heading", "headline"),
    "price_usd": ("price_usd", "price", "asking", "asking price"),
    "url": ("url", "link", "address"),
    "source": ("source", "site", "where"),
    "zip": ("zip", "zip code", "zipcode", "postal code"),
    "distance_mi": ("distance_mi", "distance", "miles"),
    "seen": ("seen", "seen_on", "date", "posted", "day"),
}
"""What a row can tell, each with the heads under which it is looked for; the first head there is counts."""

_PRICE = re.compile(r"^\s*(?:usd|us\$|\$)?\s*(\d{1,3}(?:,\d{3})+|\d+)(\.\d+)?\s*(k)?\s*(?:usd|\$)?\s*$", re.I)
_ZIP = re.compile(r"^(\d{4,5})(?:-\d{4})?$")
_DAYS = ("%Y-%m-%d", "%m/%d/%Y", "%m/%d/%y", "%Y/%m/%d", "%d %b %Y", "%b %d, %Y", "%B %d, %Y")
_NO_VALUE = frozenset({"", "-", "n/a", "na", "none", "null"})


def columns_for(heads: Sequence[str], chosen: Mapping[str, str], place: str) -> dict[str, str]:
    """Which head holds which field: those chosen, then those known by name. BadInput where none holds the text."""
    plain = {head.strip().casefold(): head for head in reversed(heads)}
    for name, head in chosen.items():
        if name not in FIELDS:
            raise BadInput(f"{name!r} is no field of a listing", f"Fields: {', '.join(FIELDS)}.")
        if head.strip().casefold() not in plain:
            raise BadInput(f"{place} has no column {head!r}", f"It has: {', '.join(heads)}.")
    found = {name: plain[head.strip().casefold()] for name, head in chosen.items()}
    for name, known in FIELDS.items():
        heading = next((plain[word] for word in known if word in plain), None)
        if heading is not None and heading not in found.values():
            found.setdefault(name, heading)
    if "text" not in found and "title" not in found:
        raise BadInput(
            f"{place} has no column that holds the text of the listings; it has: {', '.join(heads)}",
            "Say which one does, such as: --column text=NAME",
        )
    return found


def seen_of(fields: Mapping[str, Any], day: date) -> Seen:
    """The listing that fields make; ``day`` stands where they name none. BadInput tells every fault of the row."""
    faults: list[str] = []

    def read(name: str, parse: Any) -> Any:
        raw = fields.get(name)
        if raw is None or (isinstance(raw, str) and raw.strip().casefold() in _NO_VALUE):
            return None
        try:
            return parse(raw)
        except ValueError as wrong:
            shown = f" {raw!r}" if len(str(raw)) < 40 and name not in ("text", "title") else ""
            faults.append(f"{name}{shown} is {wrong}")
            return None

    text, title = read("text", _words) or "", read("title", _words) or ""
    seen = Seen(
        text if title.casefold() in text.casefold() else f"{title}\n{text}".strip(),
        read("seen", day_of) or day,
        source=read("source", _words) or "",
        url=read("url", _words) or "",
        title=title,
        zip=read("zip", zip_of),
        distance_mi=read("distance_mi", miles_of),
        price_usd=read("price_usd", usd_of),
    )
    if not seen.plain and not faults:
        faults.append("the text is empty")
    elif len(seen.text) > MAX_CHARACTERS:
        faults.append(f"the text has {len(seen.text):,} characters; a listing has at most {MAX_CHARACTERS:,}")
    if faults:
        raise BadInput("; ".join(faults))
    return seen


def _words(raw: Any) -> str:
    if not isinstance(raw, str):
        raise ValueError("no text")
    if "\0" in raw:
        raise ValueError("no text but binary data")
    broken = next((ord(c) for c in raw if 0xD800 <= ord(c) <= 0xDFFF), None)
    if broken is not None:
        # Bytes that are not in the encoding were read as the surrogates DC80 to DCFF.
        what = f"byte 0x{broken - 0xDC00:02x}" if broken >= 0xDC80 else "half a character"
        raise ValueError(f"not in the encoding of the file ({what}); mend it, or name another with --encoding")
    return raw.strip()


def usd_of(raw: Any) -> float:
    """US dollars of ``$1,200``, ``1200.00``, ``1.2k`` or a number; ValueError says what it is not."""
    if isinstance(raw, str):
        found = _PRICE.match(raw)
        if not found:
            raise ValueError("no price in US dollars")
        usd = float(found[1].replace(",", "") + (found[2] or "")) * (1000 if found[3] else 1)
    else:
        usd = _number(raw, "no price in US dollars")
    if not 0 <= usd <= 100_000:
        raise ValueError("no believable price (0 to 100,000 USD)")
    return usd


def miles_of(raw: Any) -> float:
    """Miles, one way."""
    miles = _number(raw.casefold().removesuffix("mi").strip() if isinstance(raw, str) else raw, "no distance in miles")
    if not 0 <= miles <= 5000:
        raise ValueError("no distance in miles (0 to 5,000)")
    return miles


def zip_of(raw: Any) -> str:
    """A ZIP of five digits; one of four lost its zero in a spreadsheet."""
    found = _ZIP.match(str(raw).strip())
    if not found:
        raise ValueError("no ZIP of five digits")
    return found[1].zfill(5)


def day_of(raw: Any) -> date:
    """A day written as 2026-11-25 or 11/25/2026 (month first), with or without a time of day."""
    text = str(raw).strip()
    try:
        return datetime.fromisoformat(text).date()
    except ValueError:
        pass
    for form in _DAYS:
        try:
            return datetime.strptime(text, form).date()
        except ValueError:
            continue
    raise ValueError("no day such as 2026-11-25 or 11/25/2026")


def _number(raw: Any, otherwise: str) -> float:
    try:
        value = math.nan if isinstance(raw, bool) else float(raw)
    except (TypeError, ValueError):
        value = math.nan
    if not math.isfinite(value):
        raise ValueError(otherwise)
    return value
