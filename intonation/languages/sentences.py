"""Finds every sentence of the program in its source, for translators."""

import ast
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import Any

from intonation.exercise.library import library_folder
from intonation.vocabulary import NAMES

_SPOKEN_KEYS = ("title", "listen", "remark")
_SPEAKERS = ("say", "say_as", "say_many")


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence to translate.

    Parameters
    ----------
    text
        In English.
    plural
        In English, of several things; None if no number decides.
    meaning
        Which of several things it means; None if it means only one.
    """

    text: str
    plural: str | None = None
    meaning: str | None = None


def all_sentences() -> dict[Sentence, tuple[str, ...]]:
    """Return every sentence of the program with the files that say it, in their order."""
    package = Path(__file__).parents[1]
    found: dict[Sentence, dict[str, None]] = {}
    for path in sorted(package.rglob("*.py")):
        name = path.relative_to(package.parent).as_posix()
        for sentence in sentences_in(path.read_text("utf-8")):
            found.setdefault(sentence, {})[name] = None
    for word in NAMES:
        found.setdefault(Sentence(word), {})["intonation/vocabulary.py"] = None
    for name, text in _texts_of_data():
        found.setdefault(Sentence(text), {})[name] = None
    return {sentence: tuple(files) for sentence, files in found.items()}


def _texts_of_data() -> Iterator[tuple[str, str]]:
    """Yield what exercises and fingering charts say, with the files that they stand in."""
    charts = resources.files("intonation.instruments") / "data"
    for folder in (library_folder(), charts, charts / "instruments"):
        for file in sorted(folder.iterdir(), key=lambda file: file.name):
            if file.name.endswith(".toml"):
                table = tomllib.loads(file.read_text("utf-8"))
                yield from ((file.name, text) for text in _spoken(table))


def _spoken(value: Any) -> Iterator[str]:
    if isinstance(value, list):
        for one in value:
            yield from _spoken(one)
    elif isinstance(value, dict):
        for key, one in value.items():
            if key in _SPOKEN_KEYS and one:
                yield " ".join(str(one).split())
            else:
                yield from _spoken(one)


def sentences_in(source: str) -> Iterator[Sentence]:
    """Yield the sentences that a module says, in the order of its text."""
    calls = (node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call))
    spoken = (call for call in calls if speaker_of(call))
    for call in sorted(spoken, key=lambda call: (call.lineno, call.col_offset)):
        texts = [one.value for one in call.args if isinstance(one, ast.Constant)]
        if len(texts) == len(call.args):
            yield _sentence(str(speaker_of(call)), [str(text) for text in texts])


def speaker_of(call: ast.Call) -> str | None:
    """Return by which function a call says something; None if it says nothing."""
    named = call.func.id if isinstance(call.func, ast.Name) else None
    return named if named in _SPEAKERS else None


def _sentence(speaker: str, texts: list[str]) -> Sentence:
    match speaker, texts:
        case "say_many", [one, many]:
            return Sentence(one, plural=many)
        case "say_as", [meaning, text]:
            return Sentence(text, meaning=meaning)
    return Sentence(texts[0])
