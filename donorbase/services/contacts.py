"""A seller's telephone numbers and e-mail addresses, kept out of what leaves the user's own file."""

import json
import re
from typing import Any

_SPELLED = r"(?:zero|oh|one|two|three|four|five|six|seven|eight|nine)"
_PHONE_DIGITS = 7
"""Digits of a local number; fewer, spelled out, are a count of something."""
_SHORTEST = len("a@b.co")
_FOUND = re.compile(
    r"(?P<link>https?://\S+)"
    r"|(?P<number>"
    r"(?<![\w$.-])(?:\+1[-. ]?|1[-. ])?(?:\(\d{3}\)[-. ]?|\d{3}[-. ])\d{3}[-. ]?\d{4}(?![\w-])"
    # Three figures before a year are as likely a load class or a price.
    r"|(?<![\w$.-])\d{3}(?:[-.]| (?!19[4-9]\d|20[0-3]\d))\d{4}(?![\w-])"
    r"|(?<![\w$.-])\d{10}(?!\w)"
    r"|(?<![\w.])\+\d{1,3}(?:[-. ]\(?\d{2,5}\)?){2,5}(?!\w)"
    r"|(?<![\w.-])\d(?:[-. ]\d){6,10}(?![\w-]|\.\d)"
    r"|(?:(?<=call )|(?<=text )|(?<=phone )|(?<=phone: )|(?<=cell )|(?<=cell: ))\d{7}(?!\w)"
    rf"|(?<!\w){_SPELLED}[-. ]{{1,3}}{_SPELLED}(?:[-. ]{{1,3}}(?:{_SPELLED}|\d{{1,4}})){{1,9}}(?!\w)"
    r")"
    r"|(?P<address>"
    r"(?<![\w.])[A-Za-z][\w.+-]*@[\w.-]*\w"
    r"|(?<![\w.+-])[A-Za-z][\w.+-]{0,63}(?: ?[(\[]at[)\]] ?[\w-]{1,63}(?: ?[(\[]dot[)\]] ?| dot |\.)"
    r"| at [\w-]{1,63}(?: ?[(\[]dot[)\]] ?| dot ))[a-z]{2,10}\b"
    r")",
    re.IGNORECASE,
)
"""An address also where its end was cut off, as in a title. A link stays as it is: it leads to the advert."""


def without_contacts(text: str) -> str:
    """The text with each number and address blanked, also those spelled out.

    >>> without_contacts("900 obo 555-0142, or call (555) 555-0142; joe@example.com")
    '900 obo [number], or call [number]; [address]'
    """
    if len(text) < _SHORTEST:
        return text
    return _FOUND.sub(lambda found: f"[{found.lastgroup}]" if _is_contact(found) else found[0], text)


def masked(text: str) -> str:
    """The text with each sign of a number or an address as ``#``, so that every other word stands where it stood.

    >>> masked("900 obo 555-0142, or joe@example.com")
    '900 obo ###-####, or ###@#######.###'
    """
    return _FOUND.sub(lambda found: re.sub(r"\w", "#", found[0]) if _is_contact(found) else found[0], text)


def _is_contact(found: re.Match[str]) -> bool:
    if found.lastgroup != "number":
        return found.lastgroup == "address"
    digits = len(re.findall(rf"\d|{_SPELLED}", found[0], re.IGNORECASE))
    return digits >= _PHONE_DIGITS


def blanked(value: Any) -> Any:
    """Plain data whose texts are without contacts; keys, and addresses of adverts (``url``), stay."""
    if isinstance(value, str):
        return without_contacts(value)
    if isinstance(value, dict):
        return {key: one if key == "url" else blanked(one) for key, one in value.items()}
    return [blanked(one) for one in value] if isinstance(value, list | tuple) else value


def masked_row(row: dict[str, Any]) -> dict[str, Any]:
    """A row of the database whose texts are masked, and the texts in what it keeps as JSON."""
    return {key: one if key == "url" else _masked_field(one) for key, one in row.items()}


def _masked_field(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    if value[:1] in "{[":
        try:
            return json.dumps(masked_data(json.loads(value)))
        except ValueError:
            pass
    return masked(value)


def masked_data(value: Any) -> Any:
    """Plain data whose texts are masked; keys, and addresses of adverts (``url``), stay."""
    if isinstance(value, str):
        return masked(value)
    if isinstance(value, dict):
        return {key: one if key == "url" else masked_data(one) for key, one in value.items()}
    return [masked_data(one) for one in value] if isinstance(value, list | tuple) else value
