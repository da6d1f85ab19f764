"""Words about what sounds the reference: built-in voices, FluidSynth, or the player's SoundFont."""

from intonation.language import say
from intonation.pitch.notes import note_name

SOUNDS, PRESET = say("Sounds"), say("Preset")
NAMES = {"built-in": say("built-in voices"), "fluidsynth": "FluidSynth", "soundfont": "SoundFont"}
BUILT_IN = say(
    "Exact, and a retuned tone glides. Step on for FluidSynth, or press Enter and type the path "
    "of a SoundFont (.sf2)."
)
FLUIDSYNTH = say(
    "The same voices through FluidSynth, within 0.005 cents. Or press Enter and type the path of "
    "a SoundFont (.sf2)."
)
OWN_FONT = say(
    "It replaces the voices. The drone cannot be taken out of what a microphone hears: wear "
    "headphones."
)
PRESET_EXPLAINED = say("Which sound of the SoundFont. Step on, or type a number or a name.")
STEP_KEY, NO_STEP_KEY = say("Step key"), say("none")
STEP_KEY_EXPLAINED = say(
    "A key of the keyboard that steps on as its pedal does, instead of sounding. Press Enter and "
    "type its note, for example A0; type nothing for none."
)
NOT_MEASURED = say("It has not been measured.")
SEARCH_BROKE_OFF = say("The search for devices broke off. D searches again.")
PERCUSSION_BANK = 128


def measuring(name: str, share: float) -> str:
    """Return how far the measurement of a SoundFont is."""
    return say(
        "{name} is measured before it is used: {share:.0f} %. Esc stops it.",
        name=name,
        share=100 * share,
    )


def step_key(midi: int | None) -> str:
    """Return the key that steps on."""
    return NO_STEP_KEY if midi is None else note_name(midi)


def preset(name: str, bank: int, program: int) -> str:
    """Return a preset as it is printed."""
    number = f"{program}" if bank == 0 else f"{bank}:{program}"
    return f"{number} {name}".strip()


def no_such_preset(text: str, count: int) -> tuple[str, str]:
    """Return that a SoundFont has no such preset, and what to do."""
    return (
        say('The SoundFont has no preset "{text}".', text=text),
        say("It has {count}; step through them, or type the beginning of a name.", count=count),
    )


def no_presets(name: str) -> tuple[str, str]:
    """Return that a SoundFont holds nothing to play."""
    return (say("{name} holds no preset.", name=name), say("Choose another SoundFont."))
