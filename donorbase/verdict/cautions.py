"""Which cautions apply to a case: by the work that is counted for it and by what is on offer."""

from collections.abc import Iterable

from donorbase.engineering.cautions import BRAKES, TIE_DOWN, WELDING
from donorbase.verdict.verdicts import Task

_ADAPTERS = (
    "Adapters and redrilled hubs: hub-centred, studs of full grip, torque again after 50 miles; some States "
    "forbid spacers (common practice; ask your State)."
)
_BY_WORK = {
    "disc-conversion": BRAKES,
    "master-cylinder": BRAKES,
    "brake-rebuild": BRAKES,
    "straighten-housing": WELDING,
    "change-width": WELDING,
    "swap-sides": WELDING,
    "redrill-hubs": _ADAPTERS,
    "spacers": _ADAPTERS,
    "tow-home": TIE_DOWN,
}


def cautions_for(work: Iterable[Task]) -> tuple[str, ...]:
    """The cautions for work that this axle asks beyond what is planned anyway, each once."""
    found = (_BY_WORK.get(task.word, "") for task in work if not task.planned)
    return tuple(dict.fromkeys(filter(None, found)))
