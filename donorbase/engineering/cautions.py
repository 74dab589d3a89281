"""What to say where a figure leads to work that can hurt somebody: ``cautions.BRAKES`` is the text of the key
``brakes`` of ``data/cautions.toml``. Local codes and licensed practice come first.
"""

from donorbase.reference.rules import cautions


def __getattr__(name: str) -> str:
    """The caution of that name in capitals; AttributeError where there is none."""
    found = cautions().get(name.lower().replace("_", "-"))
    if found is None or not name.isupper():
        raise AttributeError(name)
    return found.says
