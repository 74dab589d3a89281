"""Saved mails -> the words of an advert: the plain part, else the HTML part without its marks."""

import re
from contextlib import suppress
from email import message_from_binary_file, policy
from email.message import EmailMessage, Message
from email.utils import parsedate_to_datetime
from html.parser import HTMLParser
from typing import Any, BinaryIO

from donorbase.errors import BadInput

_APART = frozenset({"br", "p", "div", "tr", "li", "h1", "h2", "h3", "h4", "table", "ul", "ol", "section", "article"})
_UNSEEN = frozenset({"script", "style", "head", "title", "template"})
_BLANKS = re.compile(r"[ \t\r\f\v\xa0]+")
_LINES = re.compile(r"\n\s*\n+")


def parsed(file: Any) -> EmailMessage:
    """The mail in a binary file of a mailbox."""
    found: Message = message_from_binary_file(file, policy=policy.default)
    assert isinstance(found, EmailMessage)
    return found


def mail_fields(mail: EmailMessage) -> dict[str, str]:
    """The fields of a listing in a mail: text, title, and the day it was sent where its date can be read."""
    fields = {"text": mail_text(mail), "title": " ".join(str(_header(mail, "subject")).split())}
    with suppress(TypeError, ValueError, IndexError):
        fields["seen"] = parsedate_to_datetime(str(_header(mail, "date"))).date().isoformat()
    return fields


def mail_text(mail: EmailMessage) -> str:
    """The words of a mail. BadInput where it has none that can be read."""
    plain, html = _body(mail, "plain"), _body(mail, "html")
    if plain is None and html is None:
        raise BadInput("the mail has no text")
    words = _decoded(plain) if plain else ""
    return words if words.strip() or html is None else text_of_html(_decoded(html))


def _body(mail: EmailMessage, kind: str) -> Message | None:
    # What pretends to have parts and has none cannot be taken apart.
    with suppress(AttributeError, KeyError, IndexError, LookupError, ValueError):
        return mail.get_body(preferencelist=(kind,))
    return None


def _header(mail: EmailMessage, name: str) -> Any:
    # A header that breaks the rules of mail can raise when it is taken apart.
    try:
        return mail[name] or ""
    except (ValueError, IndexError, AttributeError, LookupError):
        return ""


def _decoded(part: Message) -> str:
    """The words of a part in the encoding it names; in UTF-8, or else Windows-1252, where that cannot be so."""
    raw = part.get_payload(decode=True)
    if not isinstance(raw, bytes):
        return ""
    for encoding in (part.get_content_charset(), "utf-8", "cp1252"):
        try:
            if encoding:
                return raw.decode(encoding)
        except (LookupError, UnicodeDecodeError):
            continue
    return raw.decode("latin-1")


class _Words(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.words: list[str] = []
        self.unseen = 0

    def handle_starttag(self, tag: str, attrs: Any) -> None:
        self.unseen += tag in _UNSEEN
        if tag in _APART:
            self.words.append("\n")

    def handle_endtag(self, tag: str) -> None:
        self.unseen = max(0, self.unseen - (tag in _UNSEEN))
        if tag in _APART:
            self.words.append("\n")

    def handle_data(self, data: str) -> None:
        if not self.unseen:
            self.words.append(data.replace("\n", " "))


def text_of_html(html: str) -> str:
    """The words that a page shows, a line for each block.

    >>> text_of_html("<p>Front axle, 8&times;170<br>$500 <b>obo</b></p><style>p {color: red}</style>")
    'Front axle, 8×170\\n$500 obo'
    """
    reader = _Words()
    reader.feed(html)
    reader.close()
    text = _BLANKS.sub(" ", "".join(reader.words))
    return _LINES.sub("\n", "\n".join(line.strip() for line in text.splitlines())).strip()


def is_mailbox(file: BinaryIO) -> bool:
    """Whether a file begins as a mailbox does."""
    return file.read(5) == b"From "
