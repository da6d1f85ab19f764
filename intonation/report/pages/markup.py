"""Building a page from elements; the library that writes it escapes every text."""

from collections.abc import Iterable, Sequence
from unicodedata import category
from xml.etree.ElementTree import Element, SubElement, tostring

from intonation.language import language_code
from intonation.report.pages.paper import STYLE
from intonation.report.table import Column

Part = Element | str

_UNPRINTABLE = frozenset({"Cc", "Cs", "Cn"})
"""Controls, halves of characters, and what is no character (Unicode general categories)."""


def printable(text: str) -> str:
    """Return a text without characters that no page may hold; a mark stands in their place."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(c if c in "\n\t" or category(c) not in _UNPRINTABLE else "\ufffd" for c in text)


def element(tag: str, *parts: Part, **attributes: str) -> Element:
    """Return an element; ``class_`` and other reserved words are written without their line."""
    named = {name.rstrip("_").replace("_", "-"): printable(v) for name, v in attributes.items()}
    made = Element(tag, named)
    for part in parts:
        _append(made, part)
    return made


def _append(parent: Element, part: Part) -> None:
    if not isinstance(part, str):
        parent.append(part)
    elif len(parent):
        parent[-1].tail = (parent[-1].tail or "") + printable(part)
    else:
        parent.text = (parent.text or "") + printable(part)


def paragraphs(sentences: Iterable[str], *, class_: str = "") -> list[Element]:
    """Return each sentence as a paragraph; empty ones are left out."""
    kind = {"class_": class_} if class_ else {}
    return [element("p", sentence, **kind) for sentence in sentences if sentence]


def table(
    columns: Sequence[Column], rows: Iterable[Sequence[str]], *, caption: str = ""
) -> Element:
    """Return a table; the first cell of every row is its heading."""
    heads = [element("th", c.heading, scope="col", **_kind(c)) for c in columns]
    body = element("tbody")
    for first, *rest in rows:
        line = SubElement(body, "tr")
        line.append(element("th", first, scope="row"))
        line.extend(
            element("td", cell, **_kind(column))
            for cell, column in zip(rest, columns[1:], strict=True)
        )
    above = [element("caption", caption)] if caption else []
    return element("table", *above, element("thead", element("tr", *heads)), body)


def _kind(column: Column) -> dict[str, str]:
    return {"class_": "number"} if column.numeric else {}


def page(title: str, facts: str, parts: Iterable[Element], *, closing: str) -> str:
    """Return a whole page as HTML text, complete in itself.

    Parameters
    ----------
    title
        Its heading, and the title of its window.
    facts
        A line under the heading: who, what, when.
    parts
        What stands on it.
    closing
        The line at its foot.
    """
    head = element(
        "head",
        element("meta", charset="utf-8"),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("title", title),
        element("style", STYLE),
    )
    above = element("header", element("h1", title), element("p", facts, class_="facts"))
    body = element("body", above, element("main", *parts), element("footer", closing))
    html = element("html", head, body, lang=language_code())
    return f"<!DOCTYPE html>\n{tostring(html, encoding='unicode', method='html')}\n"
