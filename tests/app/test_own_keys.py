"""Keys of one's own: a file says what is different, and every mistake in it is named."""

import importlib
import pkgutil
from pathlib import Path

import pytest
from textual.keys import Keys

from intonation.app import screens
from intonation.app.key_names import key_named, shown_keys
from intonation.app.key_table import PAGE_KEYS
from intonation.app.own_keys import own_keys_in, read_own_keys
from intonation.app.screens.page import Page
from intonation.app.screens.take import TakePage
from intonation.cli.main import main
from tests.app.conftest import Stand, screen_text, settled
from tests.cli.running import intonation


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[take\n", "line 1: this is not TOML"),
        ('[taek]\nreveal = "x"\n', "line 1: there is no page [taek]. Did you mean take?"),
        ('\n[take]\nrevel = "x"\n', 'line 3: [take] has no "revel". Did you mean reveal?'),
        ('[take]\nreveal = "pagedwn"\n', 'no key "pagedwn". Did you mean pagedown?'),
        ('[take]\nreveal = "space"\n', '"Space" already does something else there: take.end.'),
        ("[take]\nreveal = 5\n", "line 2: reveal is no key."),
        ("[take]\nreveal = []\n", "line 2: reveal is no key."),
        ("take = 5\n", "line 1: take is not a table."),
    ],
)
def test_a_mistake_is_one_sentence_with_its_line_and_what_to_do(text: str, says: str) -> None:
    read = own_keys_in(text, file_name="keys.toml")
    assert len(read.complaints) == 1
    assert says in str(read.complaints[0])
    assert str(read.complaints[0]).startswith("keys.toml, line ")
    assert read.keys == {}


def test_what_is_right_counts_beside_what_is_wrong() -> None:
    read = own_keys_in('[take]\nreveal = ["f5", "R"]\nloud = "x"\n', file_name="keys.toml")
    assert read.keys == {"take.reveal": ("f5", "R")}
    assert len(read.complaints) == 1


def test_two_keys_may_change_places() -> None:
    text = '[take]\nreveal = "space"\nend = ["r", "escape"]\n'
    read = own_keys_in(text, file_name="keys.toml")
    assert read.complaints == ()
    assert read.keys == {"take.reveal": ("space",), "take.end": ("r", "escape")}


def test_a_file_that_is_no_text_changes_nothing(tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    path.write_bytes(b"[take]\nreveal = \xff\n")
    read = read_own_keys(path)
    assert read.keys == {}
    assert "is not a text in UTF-8" in str(read.complaints[0])
    assert read_own_keys(tmp_path / "none.toml").complaints == ()


def test_signs_stand_for_themselves_and_other_keys_have_the_names_of_the_library() -> None:
    # against Textual's own list of keys
    assert [key_named(word) for word in ("?", "+", "-", "R", "F5", "Ctrl+t")] == [
        "question_mark",
        "plus",
        "minus",
        "R",
        "f5",
        "ctrl+t",
    ]
    known = {key.value for key in Keys}
    assert {key_named(word) for word in ("pagedown", "escape", "f12", "ctrl+up")} <= known
    assert shown_keys(("space", "pagedown", "r")) == "Space, PgDn, R"


def test_every_page_stands_in_the_table_of_keys() -> None:
    for module in pkgutil.iter_modules(screens.__path__):
        importlib.import_module(f"{screens.__name__}.{module.name}")
    pages = [Page]
    for page in pages:
        pages.extend(page.__subclasses__())
    missing = [page.__name__ for page in pages if page.keys and page.keys not in PAGE_KEYS]
    assert missing == []


async def test_ones_own_key_works_and_stands_in_key_line_and_help(stand: Stand) -> None:
    app = stand.app(own_keys={"practice.start": ("f5",), "help": ("h", "f1")})
    async with app.run_test(size=(120, 40)) as pilot:
        await settled(pilot)
        assert "F5 Start" in screen_text(pilot)
        await pilot.press("space")
        await settled(pilot)
        assert not isinstance(app.screen, TakePage)
        await pilot.press("f1")
        await settled(pilot)
        assert "F5    Start a take" in screen_text(pilot)
        await pilot.press("escape", "f5")
        await settled(pilot)
        assert isinstance(app.screen, TakePage)


def test_the_command_prints_keys_as_they_are_and_every_mistake(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "keys.toml"
    path.write_text('[take]\nreveal = ["f5"]\nendd = "x"\n', "utf-8")
    assert main(["keys", "take", "--file", str(path)]) == 2
    printed = capsys.readouterr()
    assert "reveal           F5" in printed.out
    assert "end              Space, PgDn, Esc" in printed.out
    assert 'line 3: [take] has no "endd". Did you mean end?' in printed.err
    assert "[practice]" not in printed.out


def test_without_a_file_the_command_says_where_it_would_be(tmp_path: Path) -> None:
    done = intonation("keys", home=tmp_path)
    assert done.returncode == 0
    assert f"There is no {tmp_path / 'keys.toml'}." in done.stdout
    assert "[ear]" in done.stdout
