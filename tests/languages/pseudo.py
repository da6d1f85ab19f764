"""An invented language: English with every letter changed and a third more of it.

Whatever stands on a page in plain letters was not said through the reader's language.
"""

import re
import string
from pathlib import Path

import polib

from intonation.languages.sentences import all_sentences

LETTERS = str.maketrans(
    string.ascii_letters,
    "áƀćďéƒǵĥíĵķĺḿńóṕɋŕśťúṽẃẋýźÁƁĆĎÉƑǴĤÍĴĶĹḾŃÓṔɊŔŚŤÚṼẂẊÝŹ",
)
_KEPT = re.compile(r"(\{\{|\}\}|\{[^{}]*(?:\{[^{}]*\}[^{}]*)*\}|%\(\w+\)s|%%)")


def pseudo(english: str) -> str:
    """Return a sentence of the invented language; its fields and its edges stay."""
    kept = [
        part if at % 2 else part.translate(LETTERS)
        for at, part in enumerate(_KEPT.split(english.strip()))
    ]
    longer = "~" * max(1, round(0.3 * len(english.strip())))
    begin = english[: len(english) - len(english.lstrip())]
    end = english[len(english.rstrip()) :]
    return f"{begin}{''.join(kept)}{longer}{end}" if english.strip() else english


def write_pseudo(path: Path) -> None:
    """Write the whole program in the invented language."""
    file = polib.POFile()
    file.metadata = {
        "Language": "qps",
        "Content-Type": "text/plain; charset=UTF-8",
        "Plural-Forms": "nplurals=2; plural=(n != 1);",
    }
    for sentence in all_sentences():
        plural = sentence.plural
        file.append(
            polib.POEntry(
                msgid=sentence.text,
                msgid_plural=plural or "",
                msgctxt=sentence.meaning,
                msgstr="" if plural else pseudo(sentence.text),
                msgstr_plural={0: pseudo(sentence.text), 1: pseudo(plural)} if plural else {},
            )
        )
    file.save(str(path))
