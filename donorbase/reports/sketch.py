"""Lines, circles and words on a drawing: the strokes that all drawings share, as SVG."""

import math
import xml.etree.ElementTree as ET

INK, FAINT = "#111111", "#999999"
_LINE = {"stroke": INK, "stroke-width": "2", "fill": "none"}


class Sketch:
    """A drawing of a given size in units of its own, with a title and what it shows for who cannot see it."""

    def __init__(self, width: int, height: int, title: str, shows: str) -> None:
        self.root = ET.Element("svg", xmlns="http://www.w3.org/2000/svg", viewBox=f"0 0 {width} {height}", role="img")
        self.root.set("aria-label", f"{title}: {shows}")
        ET.SubElement(self.root, "title").text = title

    def line(
        self, x1: float, y1: float, x2: float, y2: float, *, dashed: bool = False, heavy: bool = False,
        faint: bool = False,
    ) -> None:  # fmt: skip
        """A straight line."""
        style = _LINE | ({"stroke-dasharray": "6 5"} if dashed else {}) | ({"stroke-width": "4"} if heavy else {})
        style |= {"stroke": FAINT, "stroke-width": "1"} if faint else {}
        self._add("line", style, x1=x1, y1=y1, x2=x2, y2=y2)

    def circle(self, x: float, y: float, r: float, *, dashed: bool = False, filled: bool = False) -> None:
        """A circle; filled ones are solid ink."""
        style = _LINE | ({"stroke-dasharray": "6 5"} if dashed else {}) | ({"fill": INK} if filled else {})
        self._add("circle", style, cx=x, cy=y, r=r)

    def box(self, x: float, y: float, width: float, height: float, *, rounded: float = 0, dashed: bool = False) -> None:
        """A box, its corners rounded."""
        style = _LINE | ({"stroke-dasharray": "6 5"} if dashed else {})
        self._add("rect", style, x=x, y=y, width=width, height=height, rx=rounded)

    def outline(self, points: list[tuple[float, float]]) -> None:
        """A closed outline through points."""
        self._add("polygon", _LINE | {"points": " ".join(f"{_n(x)},{_n(y)}" for x, y in points)})

    def words(self, x: float, y: float, text: str, *, size: int = 15, anchor: str = "middle") -> None:
        """Words on the drawing."""
        style = {"font-size": str(size), "text-anchor": anchor, "font-family": "sans-serif", "fill": INK}
        self._add("text", style, x=x, y=y).text = text

    def tape(self, x1: float, y1: float, x2: float, y2: float, text: str, *, away: float = 0) -> None:
        """A tape from one point to another, a tick at each end, words beside its middle ``away`` from it."""
        length = math.hypot(x2 - x1, y2 - y1) or 1.0
        nx, ny = -(y2 - y1) / length, (x2 - x1) / length
        self.line(x1, y1, x2, y2, heavy=True)
        for x, y in ((x1, y1), (x2, y2)):
            self.line(x - 9 * nx, y - 9 * ny, x + 9 * nx, y + 9 * ny, heavy=True)
        if text:
            self.words((x1 + x2) / 2 + nx * away, (y1 + y2) / 2 + ny * away, text)

    def svg(self) -> str:
        """The drawing as one SVG element; every word is escaped."""
        return ET.tostring(self.root, encoding="unicode")

    def _add(self, tag: str, style: dict[str, str], **at: float) -> ET.Element:
        return ET.SubElement(self.root, tag, style | {name: _n(value) for name, value in at.items()})


def _n(value: float) -> str:
    return f"{value:.1f}".rstrip("0").rstrip(".")
