from intonation.engine.messages import QuietDrone, SoundDrone, StartTake
from intonation.practice.settings import PracticeSettings
from tests.app.conftest import Stand, screen_text, settled


async def test_arrows_change_the_marked_line_and_every_change_is_remembered(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("down", "right")
        assert stand.remembered[-1].practice == PracticeSettings(instrument="tenor")


async def test_the_marked_line_is_explained_beside_it(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("down", "down", "right")
        assert "Many orchestras' pitch." in screen_text(pilot)


async def test_a_wrong_value_is_explained_in_place_and_can_be_corrected(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("down", "down", "enter", *"999", "enter")
        assert "A4 = 999 Hz is outside" in screen_text(pilot)
        await pilot.press("backspace", "backspace", "backspace", *"415", "enter")
        assert stand.remembered[-1].practice.a4_hz == 415.0
        assert "outside" not in screen_text(pilot)


async def test_keys_that_are_typed_do_nothing_else(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("enter", *"quinn s", "enter")
        assert stand.remembered[-1].practice.player == "quinn s"
        assert pilot.app.is_running


async def test_escape_leaves_a_typed_value_as_it_was(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("down", "enter", *"bass", "escape", "space")
        await settled(pilot)
        assert pilot.app.settings == PracticeSettings()
        assert "Listen first" in screen_text(pilot)


async def test_enter_without_typing_leaves_the_value_as_it_was(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("enter", "enter")
        assert pilot.app.settings == PracticeSettings()
        assert "needs a name" not in screen_text(pilot)


async def test_unusable_settings_are_said_in_place_at_the_start(stand: Stand) -> None:
    app = stand.app(troubles={"settings": "settings.toml, line 3: not TOML. Correct it."})
    async with app.run_test(size=(80, 24)) as pilot:
        assert "settings.toml, line 3: not TOML." in screen_text(pilot)


async def test_clicks_mark_a_line_and_press_a_key_of_the_key_line(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.click("ChoiceList", offset=(5, 4))
        assert "The drone sounds F4" in screen_text(pilot)
        await pilot.click("KeyLine", offset=(4, 0))
        await settled(pilot)
        assert "Listen first" in screen_text(pilot)


async def test_the_drone_can_be_chosen_by_ear(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("h", "down", "down", "right")
        higher = PracticeSettings(a4_hz=442.0)
        assert stand.engine.commands == [SoundDrone(PracticeSettings()), SoundDrone(higher)]
        assert "The drone sounds." in screen_text(pilot)
        await pilot.press("h")
        assert stand.engine.commands[-1] == QuietDrone()
        assert "The drone sounds." not in screen_text(pilot)


async def test_the_drone_chosen_by_ear_gives_way_to_the_takes_own(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("h", "space")
        await settled(pilot)
        assert stand.engine.commands[:2] == [
            SoundDrone(PracticeSettings()),
            StartTake(PracticeSettings()),
        ]
        await pilot.press("space")
        await settled(pilot)
        await pilot.press("escape")
        assert "The drone sounds." not in screen_text(pilot)


async def test_brackets_in_what_is_typed_or_went_wrong_are_printed_as_they_are(
    stand: Stand,
) -> None:
    odd = "settings.toml: [practice] has [/bold] in it. Mend it."
    app = stand.app(PracticeSettings(player="[b]wren"), troubles={"settings": odd})
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "enter", *"[/x]", "enter")
        assert "[practice] has [/bold] in it" in screen_text(pilot)
        assert '"[/x]"' in screen_text(pilot)
        assert "[b]wren" in screen_text(pilot)
