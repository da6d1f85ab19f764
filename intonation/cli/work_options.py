"""Options that name work on an instrument, such as ``--tape 4=0.3``."""

import argparse
import re

from intonation.acoustics.alterations import Alteration, Work
from intonation.acoustics.geometry import Geometry
from intonation.errors import SettingsError
from intonation.language import name_in_words, say
from intonation.workshop.proposal import LARGEST_MM

_WHOLE: dict[str, Work] = {"pull": "pull the head joint", "clay": "clay at the window"}
_ON_HOLE: dict[str, Work] = {
    "tape": "tape over part of a hole",
    "wax": "wax in a hole",
    "enlarge": "enlarge a hole",
    "undercut_up": "undercut towards the window",
    "undercut_down": "undercut towards the foot",
}
_PLACED = re.compile(r"(?P<place>[\w.-]+)=(?P<mm>\d+(?:\.\d+)?)")
_STRETCH = re.compile(r"(?P<start>\d+(?:\.\d+)?)-(?P<end>\d+(?:\.\d+)?)")


def add_work_options(parser: argparse.ArgumentParser) -> None:
    """Add the options."""
    for name, work in _WHOLE.items():
        parser.add_argument(f"--{name}", metavar="MM", type=float, help=name_in_words(work))
    for name, work in _ON_HOLE.items():
        option = f"--{name.replace('_', '-')}"
        parser.add_argument(
            option, metavar="HOLE=MM", action="append", default=[], help=name_in_words(work)
        )
    parser.add_argument(
        "--line",
        metavar="FROM-TO=MM",
        action="append",
        default=[],
        help=say("line the bore between two places, in millimetres below the window"),
    )


def work_asked_for(arguments: argparse.Namespace, geometry: Geometry) -> tuple[Alteration, ...]:
    """Return the work that the options name, if any.

    Raises
    ------
    SettingsError
        If a hole does not exist, a stretch lies outside the bore, or an amount makes no sense.
    """
    asked = [
        Alteration(work=work, amount_mm=_amount(work, getattr(arguments, name)))
        for name, work in _WHOLE.items()
        if getattr(arguments, name) is not None
    ]
    for name, work in _ON_HOLE.items():
        asked += [_on_hole(work, text, geometry) for text in getattr(arguments, name)]
    return (*asked, *(_lining(text, geometry) for text in arguments.line))


def _amount(work: Work, amount_mm: float) -> float:
    if not 0.0 < amount_mm <= LARGEST_MM[work]:
        raise SettingsError(
            say(
                "{amount_mm:g} mm is no sensible amount to {work}.",
                amount_mm=amount_mm,
                work=name_in_words(work),
            ),
            say("Give up to {largest_mm:g} mm.", largest_mm=LARGEST_MM[work]),
        )
    return amount_mm


def _parts(text: str) -> tuple[str, float]:
    found = _PLACED.fullmatch(text)
    if found is None:
        raise SettingsError(
            say('"{text}" does not say where and how much.', text=text), say("Write, say, 4=0.3.")
        )
    return found["place"], float(found["mm"])


def _on_hole(work: Work, text: str, geometry: Geometry) -> Alteration:
    hole, amount_mm = _parts(text)
    names = [each.name for each in geometry.holes]
    if hole not in names:
        raise SettingsError(
            say('There is no hole "{hole}".', hole=hole),
            say("Choose from {names}.", names=", ".join(names)),
        )
    return Alteration(work=work, amount_mm=_amount(work, amount_mm), hole=hole)


def _lining(text: str, geometry: Geometry) -> Alteration:
    place, amount_mm = _parts(text)
    found = _STRETCH.fullmatch(place)
    inside = found and 0.0 < float(found["start"]) < float(found["end"]) < geometry.length_mm
    if not found or not inside:
        raise SettingsError(
            say('"{place}" is no stretch of this bore.', place=place),
            say(
                "Write, say, 82-112=0.15; the bore ends at {length_mm:.0f} mm.",
                length_mm=geometry.length_mm,
            ),
        )
    return Alteration(
        work="line the bore",
        amount_mm=_amount("line the bore", amount_mm),
        from_mm=float(found["start"]),
        to_mm=float(found["end"]),
    )
