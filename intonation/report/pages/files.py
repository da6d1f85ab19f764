"""Reports and drawings as files: HTML and SVG always, PDF and PNG where a library prints them."""

import logging
import os
import warnings
from collections.abc import Callable
from pathlib import Path

from intonation.errors import SettingsError, SetupError
from intonation.language import say
from intonation.report.pages.parts import WrittenReport

_PRINTING = "pip install 'intonation[print]'"


def write_report(report: WrittenReport, path: Path) -> None:
    """Write a page as HTML, or as PDF if the file's name ends so.

    Raises
    ------
    SetupError
        If a PDF is asked for and the library for it is missing.
    SettingsError
        If the file cannot be written, or its name ends otherwise.
    """
    _write(path, {".html": _html, ".htm": _html, ".pdf": _pdf}, report)


def write_drawing(report: WrittenReport, path: Path) -> None:
    """Write the main drawing as SVG, or as PNG if the file's name ends so; raises the same."""
    if report.drawing is None:
        raise SettingsError(say("There is nothing to draw yet."), say("Play a take first."))
    _write(path, {".svg": _svg, ".png": _png}, report)


Written = Callable[[WrittenReport], bytes]


def _write(path: Path, ways: dict[str, Written], report: WrittenReport) -> None:
    way = ways.get(path.suffix.lower())
    if way is None:
        raise SettingsError(
            say('What "{path}" should be is not known.', path=path),
            say("End its name in {ways}.", ways=say(" or ").join(ways)),
        )
    content = way(report)
    unfinished = path.with_name(f"{path.name}.{os.getpid()}.new")
    try:
        unfinished.write_bytes(content)
        unfinished.replace(path)
    except OSError as fault:
        unfinished.unlink(missing_ok=True)
        raise SettingsError(
            say("{path} cannot be written ({strerror}).", path=path, strerror=fault.strerror),
            say("Choose another file or folder."),
        ) from None


def _html(report: WrittenReport) -> bytes:
    return report.html.encode("utf-8")


def _svg(report: WrittenReport) -> bytes:
    assert report.drawing is not None
    return report.drawing.file_text().encode("utf-8")


def _pdf(report: WrittenReport) -> bytes:
    # what the library has to say to its own users is nothing for ours
    logging.getLogger("weasyprint").setLevel(logging.CRITICAL)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            from weasyprint import HTML
        except (ImportError, OSError):
            raise SetupError(
                say("A PDF needs the library WeasyPrint, which is not there or lacks a part."),
                say(
                    "Install it with `{printing}`, or write an .html file and print that.",
                    printing=_PRINTING,
                ),
            ) from None
        printed: bytes = HTML(string=report.html, url_fetcher=_nothing_from_outside).write_pdf()
    return printed


def _nothing_from_outside(url: str, *_: object, **__: object) -> dict[str, object]:
    raise ValueError(url)


def _png(report: WrittenReport) -> bytes:
    try:
        from cairosvg import svg2png
    except (ImportError, OSError):
        raise SetupError(
            say("A PNG needs the library CairoSVG, which is not there or lacks a part."),
            say("Install it with `{printing}`, or write an .svg file.", printing=_PRINTING),
        ) from None
    drawn: bytes = svg2png(bytestring=_svg(report), scale=3.0, background_color="white")
    return drawn
