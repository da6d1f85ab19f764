"""A translation is one file: what is in order is spoken, what is not is named with its line."""

import os
import subprocess
import sys
from collections.abc import Iterator
from gettext import NullTranslations
from pathlib import Path

import polib
import pytest

from intonation.errors import DataFileError
from intonation.language import language_code, name_in_words, say, say_as, say_many, speak
from intonation.languages.catalogue import read_catalogue
from intonation.languages.choice import speak_as_chosen
from intonation.languages.writing import write_for_translator
from intonation.store.settings import RememberedSettings, read_settings, write_settings
from tests.cli.running import intonation

HEADER = r"""msgid ""
msgstr ""
"Language: de\n"
"Content-Type: text/plain; charset=UTF-8\n"
"Plural-Forms: nplurals=2; plural=(n != 1);\n"

"""


@pytest.fixture(autouse=True)
def english_afterwards() -> Iterator[None]:
    yield
    speak(NullTranslations())


def file_with(tmp_path: Path, text: str, header: str = HEADER) -> Path:
    path = tmp_path / "de.po"
    path.write_text(f"{header}{text}", "utf-8")
    return path


def spoken(tmp_path: Path, text: str, header: str = HEADER) -> None:
    speak(read_catalogue(file_with(tmp_path, text, header)).translations)


def mistake_in(tmp_path: Path, text: str, header: str = HEADER) -> str:
    (mistake,) = read_catalogue(file_with(tmp_path, text, header)).mistakes
    return str(mistake)


def test_a_sentence_is_spoken_as_the_file_has_it_and_the_others_in_english(tmp_path: Path) -> None:
    spoken(
        tmp_path,
        'msgid "{note} was not heard"\nmsgstr "{note} war nicht zu hören"\n\n'
        'msgid "alto"\nmsgstr "Altblockflöte"\n\n'
        'msgctxt "short"\nmsgid "May"\nmsgstr "Mai"\n',
    )
    assert language_code() == "de"
    assert say("{note} was not heard", note="F4") == "F4 war nicht zu hören"
    assert name_in_words("alto") == "Altblockflöte"
    assert say_as("short", "May") == "Mai"
    assert say("May") == "May"
    assert say("{cents:.1f} cents flat", cents=3.14) == "3.1 cents flat"
    assert name_in_words("") == ""


def test_english_needs_no_file() -> None:
    assert language_code() == "en"
    assert say_many("one note", "{count} notes", count=1) == "one note"
    assert say_many("one note", "{count} notes", count=0) == "0 notes"


def test_a_number_takes_the_plural_of_its_language(tmp_path: Path) -> None:
    # the Polish example of the GNU gettext manual, "Plural forms": 1 plik, 2 pliki, 5 plików,
    # 12 plików, 22 pliki, 25 plików
    rule = "nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2);"
    spoken(
        tmp_path,
        'msgid "one file"\nmsgid_plural "{count} files"\nmsgstr[0] "plik"\n'
        'msgstr[1] "{count} pliki"\nmsgstr[2] "{count} plików"\n',
        HEADER.replace("nplurals=2; plural=(n != 1);", rule),
    )
    said = [say_many("one file", "{count} files", count=count) for count in (1, 2, 5, 12, 22, 25)]
    assert said == ["plik", "2 pliki", "5 plików", "12 plików", "22 pliki", "25 plików"]


@pytest.mark.parametrize(
    ("translation", "what"),
    [
        ("{Note} war nicht zu hören", "there is no field {Note}"),
        ("war nicht zu hören", "the field {note} is missing"),
        ("{note:d} war nicht zu hören", "there is no field {note:d}"),
        ("{note.__class__} war nicht zu hören", "there is no field {note.__class__}"),
        ("{note war nicht zu hören", "a brace is open"),
        ("{} war nicht zu hören", "a brace is open or empty"),
        ("{note} war zu 100 % nicht zu hören", "signs %"),
        ("{note} war nicht zu hören ", "same spaces"),
    ],
)
def test_a_translation_that_would_not_do_is_named_with_its_line_and_english_stands_in(
    tmp_path: Path, translation: str, what: str
) -> None:
    entry = f'msgid "{{note}} was not heard"\nmsgstr "{translation}"\n'
    mistake = mistake_in(tmp_path, entry)
    assert "de.po, line 7" in mistake
    assert what in mistake
    spoken(tmp_path, entry)
    assert say("{note} was not heard", note="F4") == "F4 was not heard"


def test_a_plural_may_leave_the_number_out_but_no_other_field(tmp_path: Path) -> None:
    entry = 'msgid "one take of {who}"\nmsgid_plural "{{count}} takes of {{who}}"\n'
    entry = entry.replace("{{", "{").replace("}}", "}")
    spoken(tmp_path, f'{entry}msgstr[0] "ein Stück von {{who}}"\nmsgstr[1] "Stücke von {{who}}"\n')
    said = say_many("one take of {who}", "{count} takes of {who}", count=3, who="Wren")
    assert said == "Stücke von Wren"
    wrong = f'{entry}msgstr[0] "ein Stück von {{who}}"\nmsgstr[1] "{{count}} Stücke"\n'
    assert "{who} is missing" in mistake_in(tmp_path, wrong)


def test_what_is_fuzzy_is_not_spoken(tmp_path: Path) -> None:
    spoken(tmp_path, '#, fuzzy\nmsgid "alto"\nmsgstr "Tenor"\n')
    assert name_in_words("alto") == "alto"


def test_a_rule_for_plurals_that_makes_no_sense_is_named(tmp_path: Path) -> None:
    header = HEADER.replace("(n != 1)", "(n !=")
    assert "rule for plurals" in mistake_in(tmp_path, 'msgid "alto"\nmsgstr "Alt"\n', header)


@pytest.mark.parametrize("content", [b"msgid", b"\xff\xfe\x00", b"hello", b"[1, 2]"])
def test_whatever_else_is_in_a_file_is_refused_in_a_sentence(
    tmp_path: Path, content: bytes
) -> None:
    path = tmp_path / "de.po"
    path.write_bytes(content)
    with pytest.raises(DataFileError, match=r"de\.po cannot be read as a PO file"):
        read_catalogue(path)


def test_the_file_of_a_translator_keeps_what_is_translated(tmp_path: Path) -> None:
    path = tmp_path / "de.po"
    translated, count = write_for_translator(path)
    assert translated == 0
    file = polib.pofile(str(path))
    assert len(file) == count
    alto = file.find("alto")
    assert alto is not None
    alto.msgstr = "Altblockflöte"
    file.append(polib.POEntry(msgid="It is not said any more.", msgstr="Das sagt niemand mehr."))
    file.save()
    assert write_for_translator(path) == (1, count)
    assert "#~ msgid" in path.read_text("utf-8")
    assert read_catalogue(path).mistakes == ()


def test_the_language_is_chosen_by_file_code_or_setting(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = file_with(tmp_path, 'msgid "alto"\nmsgstr "Alt"\n')
    settings = tmp_path / "settings.toml"
    own = tmp_path / "languages"
    own.mkdir()
    path.rename(own / "de.po")
    for asked, remembered in ((str(own / "de.po"), ""), ("de", ""), ("", "de")):
        speak(NullTranslations())
        monkeypatch.setenv("INTONATION_LANGUAGE", asked)
        settings.write_text(f'[screen]\nlanguage = "{remembered}"\n', "utf-8")
        assert speak_as_chosen(settings) is None
        assert name_in_words("alto") == "Alt"


def test_a_language_that_is_not_there_is_said_and_english_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("INTONATION_LANGUAGE", "eo")
    assert 'no language "eo"' in str(speak_as_chosen(tmp_path / "settings.toml"))
    assert language_code() == "en"


def test_the_language_in_the_settings_outlives_other_choices(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.write_text('[screen]\nlanguage = "de"\n', "utf-8")
    write_settings(path, RememberedSettings(theme="evening"))
    assert read_settings(path).settings.language == "de"


def test_what_runs_apart_speaks_the_same_language(tmp_path: Path) -> None:
    from intonation.engine.process import python_running

    (tmp_path / "speaking.py").write_text(
        'from intonation.language import say\nSENTENCE = say("alto")\ndef main(): print(SENTENCE)\n'
    )
    command = python_running("speaking")
    command[-1] = command[-1].replace("[", f'["{tmp_path}", ', 1)
    path = file_with(tmp_path, 'msgid "alto"\nmsgstr "Alt"\n')
    run = subprocess.run(
        command,
        capture_output=True,
        encoding="utf-8",
        check=True,
        env={**os.environ, "INTONATION_LANGUAGE": str(path), "PYTHONUTF8": "1"},
    )
    assert run.stdout == "Alt\n"
    assert sys.executable == command[0]


def test_the_command_lists_writes_and_checks(tmp_path: Path) -> None:
    home = tmp_path / "home"
    (home / "languages").mkdir(parents=True)
    path = home / "languages" / "de.po"
    written = intonation("languages", "write", path, home=home)
    assert f"{path} is written: 0 of" in written.stdout
    listed = intonation("languages", home=home)
    assert "built in" in listed.stdout
    assert str(path) in listed.stdout
    text = path.read_text("utf-8")
    text = text.replace('msgid "alto"\nmsgstr ""', 'msgid "alto"\nmsgstr "{alto}"')
    path.write_text(text, "utf-8")
    checked = intonation("languages", "check", path, home=home)
    assert checked.returncode == 2
    assert "there is no field {alto}" in checked.stderr
    spoken = intonation("languages", home=home, INTONATION_LANGUAGE="de")
    assert spoken.stderr.count("there is no field {alto}") == 1
    assert spoken.returncode == 0
