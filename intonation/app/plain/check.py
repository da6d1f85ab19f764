"""The instrument check in plain lines: which note is next, what became of it, and the verdict."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from intonation.app import check_words
from intonation.app.check_choices import CheckChoices, check_choices, last_form, practice_of
from intonation.app.plain import words
from intonation.app.plain.choosing import choose
from intonation.app.plain.inbox import Typed
from intonation.app.plain.stand import PlainStand, not_understood
from intonation.diagnosis.attribution import Progress
from intonation.diagnosis.check import AskedTone, measure_again
from intonation.diagnosis.comparison import NoteChange
from intonation.engine.check_bench import CheckBench, Judged
from intonation.engine.guided_check import GuidedCheck
from intonation.engine.messages import (
    AskTone,
    CheckListening,
    EndTake,
    EngineClosed,
    EngineEvent,
    StartCheck,
    ToneHeard,
)
from intonation.pitch.notes import note_name
from intonation.practice.checking import Checking
from intonation.words.check import (
    FORMS,
    LIGHT_HEADED,
    TO_DO,
    WARM_UP,
    minutes_in_words,
    note_in_words,
    pass_in_words,
    progress_in_words,
    said_in_words,
    whole_verdict_in_words,
)
from intonation.words.dates import day_of_month
from intonation.words.diagnosis import MODEL_ESTIMATE, NOT_KNOWABLE, change_in_words

_SEEDS = 2**31
_TELLS = 4
"""How often a long work says how far it is."""


def check_instrument(stand: PlainStand) -> None:
    """Let the player choose a check, play it, and hear what the checks on file say."""
    opened = stand.surroundings.checks
    if opened is None:
        stand.say(f"! {check_words.NO_RECORD}")
        return
    stand.say(WARM_UP, LIGHT_HEADED)
    stand.try_to(lambda: _at_the_bench(stand, opened()))


def _at_the_bench(stand: PlainStand, bench: CheckBench) -> None:
    form = last_form(bench.known(), stand.settings) or "short"
    chosen = [CheckChoices(practice=stand.settings, form=form)]
    _say_chosen(stand, bench, chosen[-1])
    while (typed := stand.asked().lower()) != "b":
        match typed:
            case "s" | "n":
                _begin(stand, bench, chosen[-1], anew=typed == "n")
            case "c":
                lines = check_choices(bench.known(), stand.shelf)
                choose(stand, lines, chosen[-1], chosen.append)
            case "v":
                _verdict(stand, bench, chosen[-1])
            case "" | "?":
                pass
            case _:
                not_understood(stand)
        _say_chosen(stand, bench, chosen[-1])


def _say_chosen(stand: PlainStand, bench: CheckBench, chosen: CheckChoices) -> None:
    practice = chosen.practice
    begins = minutes_in_words(chosen.minutes)
    stand.say(f"{practice.player}, {practice.instrument}: {FORMS[chosen.form]}, {begins}.")
    record = bench.unfinished(practice.player, practice.instrument)
    if record is not None:
        began = record.began_at.astimezone()
        when = f"{day_of_month(began)} {began:%H:%M}"
        stand.say(words.broken_off(when, record.settled, record.steps), words.GO_ON_KEYS)
    stand.say(words.CHECK_KEYS)


def _begin(stand: PlainStand, bench: CheckBench, chosen: CheckChoices, *, anew: bool) -> None:
    practice = chosen.practice
    record = None if anew else bench.unfinished(practice.player, practice.instrument)
    if record is None:
        order = np.random.default_rng(random.randrange(_SEEDS))
        guided = bench.begin(chosen.settings, order, notes=chosen.chosen_notes)
    else:
        guided = bench.go_on(record, chosen.settings)
    if _play(stand, bench, guided):
        if guided.checking.settings.form == "off and on":
            _compare(stand, bench, guided)
        else:
            _verdict(stand, bench, chosen)


@dataclass(slots=True)
class _UnderWay:
    """A check that is played: what was said of it last, and whether it listens."""

    guided: GuidedCheck
    said_of: Checking
    paused: bool = False
    listening: bool = True

    @property
    def asked(self) -> AskedTone | None:
        """The tone that may be played now."""
        return self.guided.checking.asked if self.listening and not self.paused else None


def _play(stand: PlainStand, bench: CheckBench, guided: GuidedCheck) -> bool:
    """Ask for one tone after the other; return whether the check came to its end."""
    under_way = _UnderWay(guided, guided.checking)
    stand.checked = guided
    stand.say(words.CHECKING_KEYS)
    stand.command(StartCheck(practice_of(guided.checking.settings)))
    try:
        _ask(stand, under_way)
        for arrived in stand.arrivals():
            if isinstance(arrived, Typed):
                if arrived.line == "e":
                    break
                _typed(stand, under_way, arrived.line or "")
            elif not _follows(stand, under_way, arrived):
                continue
            if guided.checking.finished:
                break
            _ask(stand, under_way)
    finally:
        stand.checked = None
        stand.link.send(EndTake())
        stand.try_to(guided.write_rest)
        bench.left(guided)
    return guided.checking.finished


def _typed(stand: PlainStand, under_way: _UnderWay, typed: str) -> None:
    guided = under_way.guided
    if typed == "l":
        stand.try_to(guided.skip)
        _say_last(stand, under_way)
    elif typed:
        stand.say(words.CHECKING_KEYS)
    elif not under_way.listening:
        under_way.listening, under_way.paused = True, False
        stand.command(StartCheck(practice_of(guided.checking.settings)))
    elif guided.checking.waiting:
        guided.go_on()
        under_way.paused = False
    else:
        under_way.paused = not under_way.paused


def _follows(stand: PlainStand, under_way: _UnderWay, event: EngineEvent) -> bool:
    """Take in an event; return whether anything is to be asked because of it."""
    match event:
        case CheckListening(listening):
            changed, under_way.listening = under_way.listening != listening, listening
            return changed
        case EngineClosed():
            under_way.listening = False
            return True
        case ToneHeard():
            return _say_last(stand, under_way)
    return False


def _say_last(stand: PlainStand, under_way: _UnderWay) -> bool:
    """Say what became of the last tone, if it was taken in; return whether it was."""
    checking = under_way.guided.checking
    if checking is under_way.said_of:
        return False
    under_way.said_of = checking
    stand.say(*filter(None, [said_in_words(checking)]))
    return True


def _ask(stand: PlainStand, under_way: _UnderWay) -> None:
    """Say what is to be played now, and listen for it."""
    asked = under_way.asked
    stand.say(*_asked_in_lines(under_way, asked))
    stand.link.send(AskTone(asked))


def _asked_in_lines(under_way: _UnderWay, asked: AskedTone | None) -> Iterator[str]:
    checking = under_way.guided.checking
    step = checking.check.step
    if not under_way.listening:
        yield words.SOUND_STOPPED
    elif checking.waiting and step is not None:
        name, how = pass_in_words(step, checking.settings.form)
        yield f"{name}. {how}"
        yield f"{progress_in_words(checking)}. {words.BEGIN}"
    elif asked is None:
        yield words.PAUSED
    else:
        fingering = checking.instrument.fingering(asked.midi)
        shown = f", {fingering.text}" if fingering else ""
        yield f"{note_name(asked.midi)}{shown}. {TO_DO[asked.manner]}"


def _verdict(stand: PlainStand, bench: CheckBench, chosen: CheckChoices) -> None:
    """Say what the checks on file say of every note, and offer to measure again what is open."""
    player, instrument = chosen.practice.player, chosen.practice.instrument
    judged = _judged(stand, bench, player, instrument)
    if judged is None:
        stand.say(words.NO_CHECK)
        return
    stand.say(*_verdict_lines(judged))
    if not judged.again:
        stand.say(check_words.NOTHING_OPEN)
        return
    minutes = measure_again(judged.again, np.random.default_rng(0)).minutes_left
    stand.say(words.measure_again(len(judged.again), minutes_in_words(minutes)))
    if stand.asked().lower() == "m":
        order = np.random.default_rng(random.randrange(_SEEDS))
        if _play(stand, bench, bench.begin_again(chosen.settings, judged.again, order)):
            _verdict(stand, bench, chosen)


def _verdict_lines(judged: Judged) -> Iterator[str]:
    """Yield a verdict: each note that is off in full, those in tune by their names."""
    yield whole_verdict_in_words(judged.pair)
    in_tune = [note_name(n.midi) for n in judged.pair.notes if n.verdict == "in tune"]
    for note in judged.pair.notes:
        if note.verdict != "in tune":
            yield " ".join(note_in_words(note))
    if in_tune:
        yield words.in_tune(", ".join(in_tune))
    yield from (*judged.also, MODEL_ESTIMATE, NOT_KNOWABLE)


def _judged(stand: PlainStand, bench: CheckBench, player: str, instrument: str) -> Judged | None:
    stand.say(words.WORKING_OUT)
    progress = _telling(stand)
    found: list[Judged | None] = [None]
    stand.try_to(lambda: found.append(bench.judge(player, instrument, progress=progress)))
    return found[-1]


def _compare(stand: PlainStand, bench: CheckBench, guided: GuidedCheck) -> None:
    settings, sides = guided.checking.settings, guided.sides
    stand.say(words.WORKING_OUT)
    changes: list[NoteChange] = []
    stand.try_to(
        lambda: changes.extend(
            bench.compare(
                settings.player,
                settings.instrument,
                before=_on(sides, "before"),
                after=_on(sides, "after"),
                progress=_telling(stand),
            )
        )
    )
    stand.say(*(f"{note_name(change.midi)}: {change_in_words(change)}." for change in changes))


def _on(sides: Mapping[str, str], side: str) -> list[str]:
    return [session for session, where in sides.items() if where == side]


def _telling(stand: PlainStand) -> Progress:
    """Return what says now and then how far a long work is."""
    told = [0]

    def progress(share: float) -> None:
        if int(share * _TELLS) > told[0] and share < 1.0:
            told[0] = int(share * _TELLS)
            stand.say(words.share(share))

    return progress
