"""What the sums of ``donorbase calc`` have in common: options that read quantities, and answers with their
source.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from importlib import import_module
from typing import Any

import click


class Quantity(click.ParamType[Any]):
    """A quantity as people write it; the parser is named, not imported, so that help costs only click."""

    def __init__(self, name: str, parser: str) -> None:
        self.name = name
        self.parser = parser

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The number, tire or pattern that the text means; BadInput that names the option where none."""
        if not isinstance(value, str):
            return value
        from donorbase.errors import BadInput

        module, _, function = self.parser.partition(":")
        try:
            return getattr(import_module(module), function)(value)
        except BadInput as wrong:
            place = f"{param.opts[0]}: " if param and param.opts[0].startswith("-") else ""
            raise BadInput(f"{place}{wrong.what}", wrong.next_step) from None


LENGTH = Quantity("length", "donorbase.reference.units:parse_length")
LENGTH_MM = Quantity("length", "donorbase.reference.units:parse_length_mm")
OFFSET_MM = Quantity("offset", "donorbase.reference.units:parse_offset_mm")
WEIGHT = Quantity("weight", "donorbase.reference.units:parse_weight")
FORCE = Quantity("force", "donorbase.reference.units:parse_force")
SPEED = Quantity("speed", "donorbase.reference.units:parse_speed")
TORQUE = Quantity("torque", "donorbase.reference.units:parse_torque")
ANGLE = Quantity("degrees", "donorbase.reference.units:parse_angle")
NUMBER = Quantity("number", "donorbase.reference.units:parse_number")
RATIO = Quantity("ratio", "donorbase.engineering.teeth:read_ratio")
TIRE = Quantity("tire", "donorbase.engineering.tires:read_tire")
PATTERN = Quantity("pattern", "donorbase.engineering.bolt_circle:read_pattern")


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headers; the headers name units."""

    headers: Sequence[str]
    rows: Sequence[Sequence[object]]


@dataclass(frozen=True, slots=True)
class Answer:
    """The result of a sum: what it says, its tables, the source of its formula, assumptions and cautions.

    ``data`` is what ``--json`` prints, beside source, assumptions and cautions.
    """

    data: Mapping[str, Any]
    source: str
    says: Sequence[str] = ()
    tables: Sequence[Table] = ()
    assumes: Sequence[str] = ()
    cautions: Sequence[str] = ()


def json_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """The option that every sum has."""
    return click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")(command)


def example(line: str) -> str:
    """The epilog of a command's help: one example to copy."""
    return f"\b\nExample:\n    donorbase calc {line}"


def show(answer: Answer, as_json: bool) -> None:
    """Print an answer: sentences, tables, then source, assumptions and cautions."""
    from donorbase.cli.output import say, show_json, show_table

    if as_json:
        notes = {"source": answer.source, "assumes": list(answer.assumes), "cautions": list(answer.cautions)}
        show_json({**answer.data, **notes})
        return
    for sentence in answer.says:
        say(sentence)
    for table in answer.tables:
        if answer.says or table is not answer.tables[0]:
            say()
        show_table(table.rows, table.headers)
    say()
    say(f"Source: {answer.source}.")
    if answer.assumes:
        say(f"Assumes: {'; '.join(answer.assumes)}.")
    for caution in answer.cautions:
        say(f"Caution: {caution}")


def plain(value: Any) -> Any:
    """A result of engineering as plain data for JSON: dataclasses become objects, enough digits, no more."""
    from dataclasses import asdict, is_dataclass

    if is_dataclass(value) and not isinstance(value, type):
        return plain(asdict(value))
    if isinstance(value, Mapping):
        return {str(key): plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [plain(inner) for inner in value]
    return round(value, 6) if isinstance(value, float) else value


def figure(value: float | None, places: int = 2) -> str:
    """A number for a table, with so many places; nothing where it is not known."""
    return "" if value is None else f"{value:.{places}f}"


def span(low: float, high: float, places: int = 0) -> str:
    """A range for a table."""
    return f"{low:.{places}f}-{high:.{places}f}"
