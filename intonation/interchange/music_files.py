"""Any music file that can be imported, told apart by its first bytes."""

from pathlib import Path

from intonation.errors import DataFileError
from intonation.exercise.imported_music import ImportedMusic
from intonation.interchange.midi_files import parse_midi
from intonation.interchange.musicxml_files import parse_musicxml
from intonation.language import say

_LARGEST_FILE_BYTES = 5_000_000


def read_music(path: Path) -> ImportedMusic:
    """Return the music of a Standard MIDI File or a MusicXML file.

    Raises
    ------
    DataFileError
        If the file cannot be read or holds no music.
    """
    try:
        with path.open("rb") as file:
            content = file.read(_LARGEST_FILE_BYTES + 1)
    except OSError as fault:
        raise DataFileError(
            say("{path} cannot be read ({strerror}).", path=path, strerror=fault.strerror or fault),
            say("Check the name of the file."),
        ) from None
    return parse_music(content, file_name=path.name)


def parse_music(content: bytes, *, file_name: str) -> ImportedMusic:
    """Return the music of a file's bytes; see `read_music`."""
    if content.startswith(b"MThd"):
        return parse_midi(content, file_name=file_name)
    if content.startswith(b"PK") or content.lstrip(b"\xef\xbb\xbf\xfe\xff\x00 \t\r\n")[:1] == b"<":
        return parse_musicxml(content, file_name=file_name)
    raise DataFileError(
        say("{file_name} is neither a Standard MIDI File nor MusicXML.", file_name=file_name),
        say("Export the music from a notation program in one of these forms."),
    )
