"""Small music files: the MIDI file standard's own example, and MusicXML written for the tests."""

import io
import zipfile

# Standard MIDI Files 1.0, the example of a format 0 file (from memory): three channels, 96 ticks to
# a quarter note, C3 and C4 for four beats, G4 from the second beat and E5 from the third.
STANDARD_MIDI_EXAMPLE = bytes.fromhex(
    "4D546864 00000006 0000 0001 0060"
    "4D54726B 0000003B"
    "00FF580404021808 00FF510307A120 00C005 00C12E 00C246"
    "00923060 003C60 60914340 60904C20"
    "8140823040 003C40 00814340 00804C40 00FF2F00"
)

_NOTE = "<note><pitch><step>{step}</step>{alter}<octave>{octave}</octave></pitch>{rest}</note>"


def xml_note(name: str, duration: int, extra: str = "", voice: str = "1") -> str:
    """Return a MusicXML note from a name such as ``F#5``; ``extra`` follows the duration."""
    step, alteration, octave = name[0], name[1:-1], name[-1]
    alter = {"": "", "#": "<alter>1</alter>", "b": "<alter>-1</alter>"}[alteration]
    rest = f"<duration>{duration}</duration>{extra}<voice>{voice}</voice>"
    return _NOTE.format(step=step, alter=alter, octave=octave, rest=rest)


def xml_score(*parts: str) -> bytes:
    """Return a partwise score of parts, each given as the content of its measures."""
    listed = "".join(
        f'<score-part id="P{n}"><part-name>Part {n}</part-name></score-part>'
        for n, _ in enumerate(parts, start=1)
    )
    music = "".join(f'<part id="P{n}">{part}</part>' for n, part in enumerate(parts, start=1))
    return (
        '<?xml version="1.0" encoding="UTF-8"?>'
        '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" '
        '"http://www.musicxml.org/dtds/partwise.dtd">'
        '<score-partwise version="4.0"><work><work-title>A tune</work-title></work>'
        f"<part-list>{listed}</part-list>{music}</score-partwise>"
    ).encode()


def xml_measure(*content: str) -> str:
    """Return a measure."""
    return f"<measure>{''.join(content)}</measure>"


ATTRIBUTES = (
    "<attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time>"
    "</attributes>"
)


def lead_sheet() -> bytes:
    """Return a melody of two bars with a tie, a fermata, a tempo and chord symbols."""

    def harmony(step: str, kind: str) -> str:
        root = f"<root><root-step>{step}</root-step></root>"
        return f"<harmony>{root}<kind>{kind}</kind></harmony>"

    first = xml_measure(
        ATTRIBUTES,
        '<direction><sound tempo="72"/></direction>',
        harmony("F", "major"),
        xml_note("A5", 2),
        xml_note("A5", 2, extra="<notations><fermata/></notations>"),
        harmony("C", "dominant"),
        xml_note("G5", 4, extra='<tie type="start"/>'),
    )
    second = xml_measure(
        xml_note("G5", 2, extra='<tie type="stop"/>'),
        "<note><rest/><duration>2</duration></note>",
        harmony("F", "major"),
        xml_note("F5", 4),
    )
    return xml_score(first + second)


def compressed(score: bytes) -> bytes:
    """Return a score as a compressed MusicXML file."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(
            "META-INF/container.xml",
            '<container><rootfiles><rootfile full-path="music.xml"/></rootfiles></container>',
        )
        archive.writestr("music.xml", score)
    return packed.getvalue()
