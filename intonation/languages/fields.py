"""What a translated sentence must keep of the English one: its fields, signs and edges."""

import re
from collections.abc import Iterator
from string import Formatter

from intonation.language import say

_PERCENT = re.compile(r"%\(\w+\)[sdr]|%%|%")


def what_is_wrong(text: str, english: str, plural: str | None = None) -> str:
    """Return why a translation cannot be used, or nothing.

    Parameters
    ----------
    text
        The translation.
    english
        The English sentence; of one thing, where there is a plural.
    plural
        The English sentence of several things.
    """
    known = {*fields_in(english), *fields_in(plural or english)}
    # a sentence of one thing need not name the number
    needed = {*fields_in(english)} & {*fields_in(plural or english)}
    if plural:
        needed.discard("{count}")
    try:
        found = set(fields_in(text))
    except ValueError:
        return say("a brace is open or empty; write {{{{ and }}}} for the signs themselves")
    if unknown := sorted(found - known):
        return say("there is no field {field} in this sentence", field=unknown[0])
    if missing := sorted(needed - found):
        return say("the field {field} is missing", field=missing[0])
    return _wrong_edges(text, english)


def fields_in(text: str) -> Iterator[str]:
    """Yield every field of a sentence as it is written, such as ``"{cents:.1f}"``.

    Raises
    ------
    ValueError
        If a brace is not closed, or a field has no name.
    """
    for _, name, spec, conversion in Formatter().parse(text):
        if name is None:
            continue
        if not name:
            raise ValueError(text)
        yield f"{{{name}{f'!{conversion}' if conversion else ''}{f':{spec}' if spec else ''}}}"


def _wrong_edges(text: str, english: str) -> str:
    if sorted(_PERCENT.findall(text)) != sorted(_PERCENT.findall(english)):
        return say("the signs % are not those of the English sentence")
    if _spaces(text) != _spaces(english):
        return say("it does not begin and end with the same spaces as the English sentence")
    return ""


def _spaces(text: str) -> tuple[str, str]:
    begin = text[: len(text) - len(text.lstrip())]
    return begin, text[len(text.rstrip()) :]
