"""The documents match the program: links lead somewhere, commands and options exist."""

import re
import shlex
from collections.abc import Iterator
from pathlib import Path

import pytest

from intonation.app.check_keys import CHECK
from intonation.app.exercise_keys import EXERCISES, TEMPERAMENTS
from intonation.app.key_table import PAGE_KEYS
from intonation.app.keys import EVERYWHERE, Key
from intonation.app.practice_keys import PRACTICE
from intonation.app.sound_keys import SOUND
from intonation.app.workshop_keys import WORKSHOP
from intonation.cli.commands import COMMANDS
from intonation.cli.main import main
from intonation.exercise.library import library

PAGES: dict[str, tuple[Key, ...]] = {
    "practice": PRACTICE,
    "check": CHECK,
    "exercises": EXERCISES,
    "sound": SOUND,
    "temperaments": TEMPERAMENTS,
    "workshop": WORKSHOP,
}
ROOT = Path(__file__).parent.parent
DOCUMENTS = sorted([*ROOT.glob("*.md"), *ROOT.glob("docs/**/*.md")])
LINK = re.compile(r"\[[^\]]*\]\(([^)\s]+)\)")
FENCE = re.compile(r"^```.*?^```", re.MULTILINE | re.DOTALL)
CODE = re.compile(r"`([^`\n]+)`")
COMMAND_LINE = re.compile(r"(?:^|[\s/])intonation(?:\s|$)(.*)")
PEDAL = {"Page Down", "Page Up"}
EXERCISE = re.compile(r"exercise \*([^*]+)\*")
KEY = re.compile(r"<kbd>(.*?)</kbd>")
KEY_ON_PAGE = re.compile(r"<kbd>([^<]*)</kbd>,? (?:on|in) the (\w+)(?: page)?\b")
NAMED_PATH = re.compile(r"(?:intonation|tests|docs|exercises|\.ci)/[\w./*-]+")


def by_name(path: Path) -> str:
    return str(path.relative_to(ROOT))


def anchors_of(document: Path) -> set[str]:
    headings = re.findall(r"^#+ (.*)$", FENCE.sub("", document.read_text("utf-8")), re.MULTILINE)
    return {re.sub(r"[^\w -]", "", heading.lower()).replace(" ", "-") for heading in headings}


def code_in(document: Path) -> Iterator[str]:
    text = document.read_text("utf-8")
    for block in FENCE.findall(text):
        yield from block.splitlines()[1:-1]
    yield from CODE.findall(FENCE.sub("", text))


def commands_in(document: Path) -> Iterator[list[str]]:
    """Yield what follows the program's name wherever a document shows a command."""
    for code in code_in(document):
        for part in re.split(r"&&|\|", code):
            found = COMMAND_LINE.search(part)
            if found and not re.search(r"(import|from|-m|--cov|pip|install)\s", part):
                yield shlex.split(found.group(1), comments=True)


@pytest.mark.parametrize("document", DOCUMENTS, ids=by_name)
def test_every_link_leads_somewhere(document: Path) -> None:
    for link in LINK.findall(document.read_text("utf-8")):
        if re.match(r"\w+:", link):
            continue
        place, _, anchor = link.partition("#")
        target = (document.parent / place).resolve() if place else document
        assert target.exists(), f"{by_name(document)}: {link}"
        assert not anchor or anchor in anchors_of(target), f"{by_name(document)}: {link}"


@pytest.mark.parametrize("document", DOCUMENTS, ids=by_name)
def test_every_command_shown_exists_with_its_options(
    document: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    names = {command.name for command in COMMANDS}
    for typed in commands_in(document):
        words = [word for word in typed if re.fullmatch(r"[a-z]+", word)][:2]
        assert names.issuperset(words[:1]), f"{by_name(document)}: intonation {typed}"
        options = {word.partition("=")[0] for word in typed if word.startswith("--")}
        missing = {option for option in options if option not in help_of(words, capsys)}
        assert not missing, f"{by_name(document)}: intonation {typed}: {missing}"


def help_of(words: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    """Return the program's help and that of a command."""
    with pytest.raises(SystemExit):
        main([*words, "--help"])
    with pytest.raises(SystemExit):
        main(["--help"])
    return capsys.readouterr().out


@pytest.mark.parametrize("document", DOCUMENTS, ids=by_name)
def test_every_file_named_exists(document: Path) -> None:
    for code in code_in(document):
        for path in NAMED_PATH.findall(code):
            assert list(ROOT.glob(path.rstrip("./"))), f"{by_name(document)}: {path}"


@pytest.mark.parametrize("document", DOCUMENTS, ids=by_name)
def test_every_key_shown_does_something_on_the_page_that_is_named(document: Path) -> None:
    text = document.read_text("utf-8")
    anywhere = shown_on(tuple(key for page in PAGE_KEYS for key in page)) | PEDAL
    assert anywhere.issuperset(KEY.findall(text))
    for key, page in KEY_ON_PAGE.findall(text):
        assert page not in PAGES or key in shown_on(PAGES[page]), f"{key} on the {page} page"


def shown_on(keys: tuple[Key, ...]) -> set[str]:
    return {key.shown for key in (*keys, *EVERYWHERE)}


def test_every_exercise_named_in_the_guides_ships() -> None:
    text = " ".join(" ".join(page.read_text("utf-8").split()) for page in DOCUMENTS)
    assert {exercise.title for exercise in library()}.issuperset(EXERCISE.findall(text))


@pytest.mark.parametrize("page", ["guides/me-or-the-instrument.md", "limits.md"])
def test_how_often_a_blame_is_right_is_told_as_it_was_measured(page: str) -> None:
    method = (ROOT / "docs/how-it-works/diagnosis.md").read_text("utf-8")
    worlds = [row.split("|") for row in method.splitlines() if re.match(r"\| [\w ]+, A-B", row)]
    right = sorted(round(100 * float(row[6])) for row in worlds)
    told = " ".join((ROOT / "docs" / page).read_text("utf-8").split())
    assert f"{right[0]} to {right[-1]} in a hundred" in told


def test_every_command_is_in_the_readme() -> None:
    readme = (ROOT / "README.md").read_text("utf-8")
    for command in COMMANDS:
        shown = "`intonation`" if command.name == "practise" else f"`intonation {command.name}"
        assert shown in readme, command.name


def test_every_document_can_be_reached_from_the_list_of_documents() -> None:
    listed = LINK.findall((ROOT / "docs/README.md").read_text("utf-8"))
    reached = {(ROOT / "docs" / link.partition("#")[0]).resolve() for link in listed}
    documents = {path for path in DOCUMENTS if path.name not in ("README.md", "DEVELOPERS.md")}
    assert documents <= reached


def test_the_readme_and_ci_run_the_same_two_commands() -> None:
    blocks = re.findall(r"```sh\n(.*?)\n```", (ROOT / "README.md").read_text("utf-8"), re.DOTALL)
    ci = (ROOT / ".ci/run").read_text("utf-8")
    for block in blocks[:2]:
        assert f"  {block}\n" in ci


def test_every_reader_learns_how_to_take_care() -> None:
    start = (ROOT / "docs/start.md").read_text("utf-8")
    for word in ("light-headed", "85 dB", "headphones", "local rules", "qualified maker"):
        assert word in start
