"""``intonation render``: write exactly what would sound, for anyone to measure or practise with."""

import argparse
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING, Any

from intonation.errors import SettingsError
from intonation.language import say

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

    from intonation.exercise.pieces import Exercise
    from intonation.pitch.chords import ChordTuning
    from intonation.pitch.tuning import Tuning
    from intonation.synth.sounds import PlayersFont

PURE = "pure"
EXACT = "exact"


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command and its options."""
    parser = subparsers.add_parser(
        "render",
        help=say("write the reference of an exercise, or a chord, as a sound file"),
        description=say(
            "Write exactly what would sound as 48 kHz 32-bit float WAV: the reference of an "
            "exercise, or the notes given with --notes."
        ),
    )
    parser.add_argument(
        "exercise", nargs="?", metavar="EXERCISE", help=say("a name, or a TOML file")
    )
    parser.add_argument(
        "--output", required=True, type=Path, metavar="OUT.wav", help=say("write the sound here")
    )
    parser.add_argument(
        "--a4", default="440", metavar="HZ", help=say("concert pitch (default: 440)")
    )
    parser.add_argument(
        "--tuning",
        default=PURE,
        metavar="NAME",
        help=say("pure (the default), the name of a temperament, or the TOML file of your own"),
    )
    parser.add_argument(
        "--voice", default="principal", metavar="NAME", help=say("default: principal")
    )
    parser.add_argument(
        "--soundfont",
        metavar="FILE",
        help=say(
            "sound a SoundFont of your own through FluidSynth; it is measured first. "
            '"exact" takes the exact one that this program makes'
        ),
    )
    parser.add_argument(
        "--preset",
        default="0:0",
        metavar="BANK:PROGRAM",
        help=say("which sound of your SoundFont (default: 0:0)"),
    )
    parser.add_argument(
        "--loudness",
        type=float,
        default=0.0,
        metavar="DB",
        help=say("0 (the default) is the loudest"),
    )
    _add_sonority(parser)
    _add_exercise(parser)


def _add_sonority(parser: argparse.ArgumentParser) -> None:
    options = parser.add_argument_group(say("notes that sound together"))
    options.add_argument("--notes", metavar="C4,E4,G4", help=say("sounding notes"))
    options.add_argument(
        "--tonic",
        metavar="NOTE",
        help=say("what pure or just stands on (default: the lowest note)"),
    )
    options.add_argument("--seconds", type=float, default=12.0, help=say("how long (default: 12)"))


def _add_exercise(parser: argparse.ArgumentParser) -> None:
    options = parser.add_argument_group(say("an exercise"))
    options.add_argument("--instrument", default="alto", metavar="NAME", help=say("default: alto"))
    options.add_argument(
        "--chords",
        choices=("pure", "adapting", "tempered"),
        help=say(
            "pure over roots of the temperament, adapting to the chord before, or tempered "
            "(default: pure if the tuning is, else tempered)"
        ),
    )
    options.add_argument("--tempo", type=float, metavar="BEATS", help=say("beats a minute"))
    options.add_argument(
        "--phrase", type=int, metavar="NUMBER", help=say("only this phrase, from 1")
    )
    options.add_argument(
        "--times", type=int, default=1, help=say("how often in a row (default: 1)")
    )
    options.add_argument(
        "--with-melody", action="store_true", help=say("sound the player's part too")
    )
    options.add_argument(
        "--seed", type=int, default=0, help=say("which order, where the order varies (default: 0)")
    )


def run(arguments: argparse.Namespace) -> int:
    """Render what was asked for and write it."""
    if (arguments.exercise is None) == (arguments.notes is None):
        raise SettingsError(
            say("Give either an exercise or --notes."),
            say("For example: intonation render innsbruck."),
        )
    from intonation.audio.sound_files import write_recording
    from intonation.cli.rendering import SAMPLE_RATE_HZ

    with _synth(arguments) as synth:
        synth.set_loudness(arguments.loudness)
        samples = _notes(arguments, synth) if arguments.notes else _exercise(arguments, synth)
    write_recording(arguments.output, samples, sample_rate_hz=SAMPLE_RATE_HZ)
    print(
        say(
            "{output} is written: {seconds:.1f} seconds.",
            output=arguments.output,
            seconds=len(samples) / SAMPLE_RATE_HZ,
        )
    )
    return 0


def _synth(arguments: argparse.Namespace) -> "AbstractContextManager[Any]":
    from intonation.cli.rendering import SAMPLE_RATE_HZ

    if arguments.soundfont is None:
        from intonation.synth.wavetable import Synth

        return closing(Synth(SAMPLE_RATE_HZ))
    from intonation.synth.fluid import FluidSynth

    if arguments.soundfont == EXACT:
        return closing(FluidSynth(SAMPLE_RATE_HZ))
    return closing(FluidSynth(SAMPLE_RATE_HZ, font=_measured_font(arguments)))


def _measured_font(arguments: argparse.Namespace) -> "PlayersFont":
    """Return the player's SoundFont, and say how well it is in tune."""
    from intonation.synth.soundfont_check import check_font
    from intonation.synth.sounds import PlayersFont

    bank, program = _preset(arguments.preset)
    font = PlayersFont(Path(arguments.soundfont), bank=bank, program=program)
    print(check_font(font).sentence)
    return font


def _preset(text: str) -> tuple[int, int]:
    bank, _, program = text.rpartition(":")
    if not (program.isdecimal() and (bank or "0").isdecimal() and len(text) < 12):
        raise SettingsError(
            say('"{text}" is not a preset.', text=text),
            say("Give bank and program: --preset 0:19."),
        )
    return int(bank or "0"), int(program)


def _notes(arguments: argparse.Namespace, synth: Any) -> Any:
    from intonation.cli.rendering import rendered_tones
    from intonation.pitch.notes import midi_of_note

    notes = [midi_of_note(name) for name in arguments.notes.replace(",", " ").split()]
    if not notes:
        raise SettingsError(say("--notes names no note."), say("For example: --notes C4,E4,G4."))
    tuning = _sonority_tuning(arguments, lowest_midi=min(notes))
    frequencies_hz = [tuning.hz(midi) for midi in notes]
    return rendered_tones(
        frequencies_hz, synth, voice=arguments.voice, duration_s=arguments.seconds
    )


def _sonority_tuning(arguments: argparse.Namespace, *, lowest_midi: int) -> "Tuning":
    """Return pure intervals over the tonic, just intonation on it, or a temperament."""
    from intonation.pitch.notes import pitch_class_of
    from intonation.pitch.tuning import pure_over

    tonic = lowest_midi if arguments.tonic is None else pitch_class_of(arguments.tonic)
    if arguments.tuning == PURE:
        return pure_over(tonic, within=_tempered("equal", arguments))
    if arguments.tuning == "just" and arguments.tonic is not None:
        return _tempered(f"just-on-{arguments.tonic}", arguments)
    return _tempered(arguments.tuning, arguments)


def _tempered(name: str, arguments: argparse.Namespace) -> "Tuning":
    from intonation.cli.own_files import temperament_asked_for
    from intonation.pitch.concert_pitch import concert_pitch_hz
    from intonation.pitch.tuning import tempered

    return tempered(temperament_asked_for(name), a4_hz=concert_pitch_hz(arguments.a4))


def _exercise(arguments: argparse.Namespace, synth: Any) -> Any:
    import numpy as np

    from intonation.cli.named_instruments import recorder_asked_for
    from intonation.cli.own_files import exercise_asked_for
    from intonation.cli.rendering import rendered_score
    from intonation.exercise.interpretation import Interpretation
    from intonation.exercise.realise import realise

    instrument = recorder_asked_for(arguments.instrument)
    is_pure = arguments.tuning == PURE
    chords: ChordTuning = arguments.chords or ("pure" if is_pure else "tempered")
    how = Interpretation(
        lowest_midi=instrument.lowest_midi,
        highest_midi=instrument.highest_midi,
        tuning=_tempered("equal" if is_pure else arguments.tuning, arguments),
        harmony=chords,
        tempo=_tempo(arguments.tempo),
        with_melody=arguments.with_melody,
    )
    exercise = _phrases(exercise_asked_for(arguments.exercise), arguments)
    score = realise(exercise, how, rng=np.random.default_rng(abs(arguments.seed)))
    return rendered_score(score, synth, voice=arguments.voice)


def _tempo(tempo: float | None) -> float | None:
    from intonation.exercise.exercise_file import FASTEST, SLOWEST

    if tempo is not None and not SLOWEST <= tempo <= FASTEST:
        raise SettingsError(
            say("{tempo:g} beats a minute cannot be practised.", tempo=tempo),
            say("Choose from {slowest:g} to {fastest:g}.", slowest=SLOWEST, fastest=FASTEST),
        )
    return tempo


def _phrases(exercise: "Exercise", arguments: argparse.Namespace) -> "Exercise":
    """Return the phrase that was asked for, or all, as often as was asked for."""
    count = len(exercise.phrases)
    if arguments.phrase is not None and not 1 <= arguments.phrase <= count:
        raise SettingsError(
            say(
                "{exercise} has no phrase {phrase}.",
                exercise=exercise.name,
                phrase=arguments.phrase,
            ),
            say("Choose from 1 to {count}.", count=count),
        )
    if not 1 <= arguments.times <= 100:
        raise SettingsError(
            say("{times} times cannot be.", times=arguments.times), say("Choose from 1 to 100.")
        )
    once = range(count) if arguments.phrase is None else (arguments.phrase - 1,)
    return exercise.of_phrases(*(list(once) * arguments.times))
