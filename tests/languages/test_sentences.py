"""Every sentence for the player can be found by translators, and gets the fields that it has."""

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import get_args

import intonation
from intonation import vocabulary
from intonation.acoustics.alterations import Work
from intonation.diagnosis.comparison import ChangeVerdict
from intonation.diagnosis.verdict import Verdict
from intonation.exercise.pieces import KINDS
from intonation.instruments.library import INSTRUMENT_NAMES
from intonation.languages.fields import fields_in
from intonation.languages.sentences import Sentence, all_sentences, sentences_in, speaker_of
from intonation.listening.drills.remember import CHOICES
from intonation.pitch.intervals import INTERVALS
from intonation.practice.ear_choices import EAR_DRILLS, EAR_FEEDBACK, EAR_REGISTERS
from intonation.synth.voices import VOICES

PACKAGE = Path(intonation.__file__).parent
MODULES = sorted(PACKAGE.rglob("*.py"))
FOR_NOBODY = {
    "exercise/writing.py": "lines of a file",
    "instruments/fingering.py": "the pattern of a fingering, and a mistake of its author",
    "report/pages/paper.py": "a style sheet",
    "report/maker_sheet.py": "a style sheet, and marks of HTML",
    "store/settings.py": "a comment of a file",
}


def test_every_sentence_can_be_found_and_gets_its_fields() -> None:
    for module in MODULES:
        for call in spoken_in(module):
            where = f"{module}, line {call.lineno}"
            assert all(isinstance(text, ast.Constant) for text in call.args), where
            assert needed(call) == given(call), where


@cache
def every_sentence() -> dict[Sentence, tuple[str, ...]]:
    return all_sentences()


@cache
def parsed(module: Path) -> ast.Module:
    return ast.parse(module.read_text("utf-8"))


def spoken_in(module: Path) -> Iterator[ast.Call]:
    """Yield the calls by which a module says something."""
    for node in ast.walk(parsed(module)):
        if isinstance(node, ast.Call) and speaker_of(node):
            yield node


def needed(call: ast.Call) -> set[str]:
    """Return the names of the fields of a sentence."""
    texts = [str(text.value) for text in call.args if isinstance(text, ast.Constant)]
    fields = {field for text in texts for field in fields_in(text)}
    nested = re.findall(r"\{(\w+)", " ".join(fields))
    return {*nested, "count"} if speaker_of(call) == "say_many" else {*nested}


def given(call: ast.Call) -> set[str]:
    """Return the names of the fields that a call fills in."""
    return {str(one.arg) for one in call.keywords}


def test_whatever_reads_like_a_sentence_is_said_through_the_readers_language() -> None:
    unsaid = [
        f"{module.relative_to(PACKAGE)}, line {line}: {text}"
        for module in MODULES
        if module.relative_to(PACKAGE).as_posix() not in FOR_NOBODY
        for line, text in unsaid_in(parsed(module))
    ]
    assert not unsaid, "\n".join(unsaid)


def unsaid_in(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Yield what reads like a sentence and stands neither in a call of ours nor in a docstring."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            continue
        if isinstance(node, ast.Call) and speaker_of(node):
            yield from (found for one in node.keywords for found in unsaid_in(one.value))
            continue
        text = text_of(node)
        if text and reads_like_a_sentence(text):
            yield getattr(node, "lineno", 0), text
        elif not isinstance(node, ast.JoinedStr):
            yield from unsaid_in(node)


def text_of(node: ast.AST) -> str:
    if isinstance(node, ast.JoinedStr):
        return "".join(
            str(part.value) if isinstance(part, ast.Constant) else "…" for part in node.values
        )
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


def reads_like_a_sentence(text: str) -> bool:
    """Return whether a text begins with a capital, has three words, and comes to an end."""
    words = re.findall(r"[A-Za-z]{2,}", text)
    is_sql = re.search(r"\b(SELECT|INSERT|CREATE|UPDATE|FROM|PRAGMA)\b", text)
    return bool(
        re.match(r"[A-Z…\"`(]", text)
        and re.search(r"[.?!]$", text.strip())
        and len(words) >= 3
        and not is_sql
    )


def test_names_that_are_kept_in_english_stand_where_translators_find_them() -> None:
    kept = {
        *(interval.name for interval in INTERVALS),
        *(*INSTRUMENT_NAMES, *KINDS, *VOICES, *CHOICES),
        *(*EAR_DRILLS, *EAR_REGISTERS, *EAR_FEEDBACK),
        *(*get_args(Verdict), *get_args(ChangeVerdict), *get_args(Work)),
    }
    assert kept <= set(vocabulary.NAMES)


def test_a_translator_finds_sentences_plurals_meanings_and_the_texts_of_exercises() -> None:
    found = every_sentence()
    assert "intonation/words/numbers.py" in found[Sentence("once", plural="{count} times")]
    assert Sentence("May", meaning="short") in found
    assert Sentence("May") in found
    assert "frere-jacques.toml" in found[Sentence("Frère Jacques")]


def test_a_sentence_in_pieces_is_found_as_one() -> None:
    source = 'print(say("One, "\n    "two {number}.", number=say("three")))'
    assert list(sentences_in(source)) == [Sentence("One, two {number}."), Sentence("three")]


def test_a_sentence_has_one_plural_only() -> None:
    plurals: dict[tuple[str | None, str], set[str | None]] = {}
    for sentence in every_sentence():
        plurals.setdefault((sentence.meaning, sentence.text), set()).add(sentence.plural)
    # a PO file has one entry for each English sentence; its meaning tells two of them apart
    assert not [sentence for sentence, found in plurals.items() if len(found) > 1]
