"""The house and the desk that the pages work at, made anew when somebody changed the database."""

from datetime import date

from donorbase.services.desk import Desk
from donorbase.services.house import House


class Held:
    """One house for all requests, which come one after the other."""

    def __init__(self, place: str) -> None:
        self.house = House(place)
        self._desk: Desk | None = None
        self._state = ""

    def desk(self) -> Desk:
        """The desk of the present state. Words and figures take part of a second to make ready, so they are held."""
        state = self.house.state()
        if self._desk is None or not state or state != self._state:
            self.house.close()
            self._desk = Desk.of_house(self.house, date.today().year)
            self._state = self.house.state()
        return self._desk
