"""Waiting for the wizard: for its screens, its timers and what is worked out beside them."""

from textual.pilot import Pilot

from wizard.screens.app import ShackrailApp


async def quiet(pilot: Pilot[str]) -> None:
    """Wait until screens, timers and all work in the background are done."""
    app = pilot.app
    assert isinstance(app, ShackrailApp)
    await pilot.pause(0.02)
    while app.work.busy:
        await pilot.pause(0.02)
    await pilot.pause(0.01)
