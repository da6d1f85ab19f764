"""A drawing that can be printed, with its text alternative: lines, marks and words as SVG."""

from collections.abc import Sequence
from xml.etree.ElementTree import Element, tostring

from intonation.report.pages.markup import element
from intonation.report.pages.paper import FLAT, INK, PAPER, RULE, SHARP, TYPE, WINDOW

SVG_NAMESPACE = "http://www.w3.org/2000/svg"
WIDTH = 640.0
"""Units across a drawing that is as wide as the page."""

Point = tuple[float, float]


class Drawing:
    """A sheet that marks are put on.

    Parameters
    ----------
    width, height
        Its size in units of its own.
    title, told
        What it shows, in a few words and in whole sentences, for those who do not see it.
    """

    def __init__(self, width: float, height: float, *, title: str, told: str) -> None:
        self.width, self.height = width, height
        self.title, self.told = title, told
        self._parts: list[Element] = []

    def svg(self, name: str = "drawing") -> Element:
        """Return the drawing as an element; the name makes its identifiers unique on a page."""
        return element(
            "svg",
            element("title", self.title, id=f"{name}-title"),
            element("desc", self.told, id=f"{name}-told"),
            *self._parts,
            xmlns=SVG_NAMESPACE,
            viewBox=f"0 0 {_n(self.width)} {_n(self.height)}",
            role="img",
            aria_labelledby=f"{name}-title {name}-told",
            font_family=TYPE,
            font_size="11",
            fill=INK,
        )

    def file_text(self) -> str:
        """Return the drawing as the text of an SVG file of its own."""
        root = self.svg()
        root.set("width", _n(self.width))
        root.set("height", _n(self.height))
        text = tostring(root, encoding="unicode", method="xml")
        return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'

    def line(
        self, one: Point, other: Point, *, ink: str = RULE, wide: float = 0.75, broken: bool = False
    ) -> None:
        """Draw a straight line."""
        dashes = {"stroke_dasharray": "3 3"} if broken else {}
        (x1, y1), (x2, y2) = one, other
        ends = {"x1": _n(x1), "y1": _n(y1), "x2": _n(x2), "y2": _n(y2)}
        self._parts.append(element("line", **ends, stroke=ink, stroke_width=_n(wide), **dashes))

    def path(self, points: Sequence[Point], *, ink: str = INK, wide: float = 1.4) -> None:
        """Draw a line through points."""
        if not points:
            return
        through = " ".join(f"{_n(x)},{_n(y)}" for x, y in points)
        self._parts.append(
            element(
                "polyline",
                points=through,
                fill="none",
                stroke=ink,
                stroke_width=_n(wide),
                stroke_linejoin="round",
                stroke_linecap="round",
            )
        )

    def area(self, one: Point, other: Point, *, ink: str = WINDOW) -> None:
        """Fill an area between two corners."""
        x, y = min(one[0], other[0]), min(one[1], other[1])
        sides = {"width": _n(abs(one[0] - other[0])), "height": _n(abs(one[1] - other[1]))}
        self._parts.append(element("rect", x=_n(x), y=_n(y), **sides, fill=ink))

    def outline(self, points: Sequence[Point], *, ink: str = INK, filled: bool = True) -> None:
        """Draw a closed shape."""
        corners = " ".join(f"{_n(x)},{_n(y)}" for x, y in points)
        look = {"fill": ink if filled else PAPER, "stroke": ink, "stroke_width": "1.2"}
        self._parts.append(element("polygon", points=corners, **look))

    def ring(self, centre: Point, radius: float, *, ink: str = INK, filled: bool = True) -> None:
        """Draw a disc, or a ring."""
        look = {"fill": ink if filled else PAPER, "stroke": ink, "stroke_width": "1.2"}
        x, y = centre
        self._parts.append(element("circle", cx=_n(x), cy=_n(y), r=_n(radius), **look))

    def text(
        self, words: str, at: Point, *, ink: str = INK, anchor: str = "start", strong: bool = False
    ) -> None:
        """Print words beside a point: from it, before it, or about its middle."""
        weight = {"font_weight": "bold"} if strong else {}
        place = {"x": _n(at[0]), "y": _n(at[1])}
        made = element("text", words, **place, text_anchor=anchor, fill=ink, **weight)
        self._parts.append(made)


def deviation_ink(cents: float) -> str:
    """Return the ink of a deviation; its sign stands beside it all the same."""
    if abs(cents) < 0.05:
        return INK
    return SHARP if cents > 0 else FLAT


def diamond(centre: Point, size: float) -> list[Point]:
    """Return the corners of the mark that stands for a deviation."""
    x, y = centre
    return [(x, y - size), (x + size, y), (x, y + size), (x - size, y)]


def _n(number: float) -> str:
    return f"{number:.2f}".rstrip("0").rstrip(".")
