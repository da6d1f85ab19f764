"""XML from strangers: parsed without entities, within limits, and unpacked from .mxl archives."""

import io
import zipfile
import zlib
from types import ModuleType
from xml.etree.ElementTree import Element, ParseError

from intonation.errors import DataFileError, SetupError
from intonation.language import say

WHAT_TO_DO = say("Export it again from a notation program as MusicXML (score-partwise).")
LARGEST_XML_BYTES = 5_000_000
_CONTAINER = "META-INF/container.xml"


def parse_xml(content: bytes, *, file_name: str) -> Element:
    """Return the root element of an XML text.

    Raises
    ------
    DataFileError
        If it is no XML, too large, or declares entities.
    SetupError
        If the package that reads XML safely is not installed.
    """
    if len(content) > LARGEST_XML_BYTES:
        raise DataFileError(
            say("{file_name} is far too large for a piece of music.", file_name=file_name),
            WHAT_TO_DO,
        )
    safe = _defused_library()
    try:
        root: Element = safe.ElementTree.fromstring(content, forbid_dtd=False)
    except (ParseError, safe.DefusedXmlException, ValueError, LookupError, RecursionError) as fault:
        line = getattr(fault, "position", (None, 0))[0]
        place = (
            file_name
            if line is None
            else say("{file_name}, line {line}", file_name=file_name, line=line)
        )
        raise DataFileError(
            say("{place}: this is not sound XML.", place=place), WHAT_TO_DO
        ) from None
    return root


def unpacked(content: bytes, *, file_name: str) -> bytes:
    """Return the score of a compressed MusicXML file (.mxl), or the content itself if it is none.

    Notes
    -----
    The archive's ``META-INF/container.xml`` names the score: MusicXML 4.0, compressed files.
    """
    if not content.startswith(b"PK"):
        return content
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            return _member(archive, _score_name(archive, file_name))
    except (zipfile.BadZipFile, zlib.error, KeyError, ValueError, EOFError, OSError,
            NotImplementedError, RuntimeError, OverflowError):  # fmt: skip
        raise DataFileError(
            say("{file_name} is a damaged .mxl archive.", file_name=file_name), WHAT_TO_DO
        ) from None


def _score_name(archive: zipfile.ZipFile, file_name: str) -> str:
    if _CONTAINER in archive.namelist():
        container = parse_xml(_member(archive, _CONTAINER), file_name=file_name)
        paths = [e.get("full-path") for e in container.iter() if e.tag.endswith("rootfile")]
        if paths and paths[0]:
            return paths[0]
    return next(name for name in [*archive.namelist(), ""] if name.endswith((".xml", "")))


def _member(archive: zipfile.ZipFile, name: str) -> bytes:
    with archive.open(name) as member:
        return member.read(LARGEST_XML_BYTES + 1)


def _defused_library() -> ModuleType:
    try:
        import defusedxml
        import defusedxml.ElementTree
    except ImportError:
        raise SetupError(
            say(
                "MusicXML needs the Python package defusedxml, which is not installed; "
                "everything else works without it."
            ),
            say("Install it with: {command}", command='pip install "intonation[musicxml]"'),
        ) from None
    module: ModuleType = defusedxml
    return module
