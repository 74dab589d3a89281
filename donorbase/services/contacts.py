"""A seller's telephone numbers and e-mail addresses, kept out of what leaves the user's own file."""

import re

_NUMBER = re.compile(
    r"(?<![\w$.-])(?:\+1[-. ]?|1[-. ])?(?:\(\d{3}\) ?|\d{3}[-. ])?\d{3}[-. ]\d{4}(?![\w-])"
    r"|(?<![\w$.-])\d{10}(?!\w)"
)
_ADDRESS = re.compile(r"(?<![\w.])[A-Za-z][\w.+-]*@[\w.-]*\w")
"""Also one whose end was cut off, as in a title."""


def without_contacts(text: str) -> str:
    """The text with each number and address blanked; one written in words stays.

    >>> without_contacts("900 obo 555-0142, or call (555) 555-0142; joe@example.com")
    '900 obo [number], or call [number]; [address]'
    """
    return _ADDRESS.sub("[address]", _NUMBER.sub("[number]", text))
