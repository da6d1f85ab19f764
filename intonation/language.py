"""The language of every sentence: English is what stands in the code, a catalogue has the others.

The English sentence is itself the key, as with GNU gettext. The entrance of the program chooses a
catalogue before it imports anything that speaks; whoever chooses none reads English.
"""

from gettext import NullTranslations

__all__ = ["language_code", "name_in_words", "say", "say_as", "say_many", "speak"]


class _Chosen:
    catalogue = NullTranslations()


def speak(catalogue: NullTranslations) -> None:
    """Take every sentence from a catalogue from now on; English where it has none."""
    _Chosen.catalogue = catalogue


def language_code() -> str:
    """Return the code of the reader's language, such as ``"en"`` or ``"de"`` (BCP 47)."""
    return str(_Chosen.catalogue.info().get("language") or "en").replace("_", "-")


def say(sentence: str, /, **fields: object) -> str:
    """Return a sentence in the reader's language.

    Parameters
    ----------
    sentence
        In English, with a field in braces for whatever changes: ``"{note} was not heard"``.
    fields
        What stands in the fields.
    """
    return _Chosen.catalogue.gettext(sentence).format(**fields)


def say_as(meaning: str, sentence: str, /, **fields: object) -> str:
    """Return a sentence that means one of several things, which other languages tell apart."""
    return _Chosen.catalogue.pgettext(meaning, sentence).format(**fields)


def say_many(one: str, many: str, /, *, count: int, **fields: object) -> str:
    """Return a sentence about a number of things, in the plural that it takes.

    Parameters
    ----------
    one, many
        What English says of one, and of any other number; both may have the field ``{count}``.
    count
        The number that decides.
    fields
        What stands in the other fields.
    """
    return _Chosen.catalogue.ngettext(one, many, count).format(count=count, **fields)


def name_in_words(word: str) -> str:
    """Return the name of a thing in the reader's language; it has no fields, and may be empty.

    For names that are kept in files in English, such as ``"major third"`` or ``"alto"``. Each of
    them stands in `intonation.vocabulary`, where translators find it.
    """
    return _Chosen.catalogue.gettext(word) if word else word
