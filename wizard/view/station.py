"""The station drawn for the room there is: boxes and three lines a load where it is wide, two in a narrow column, else
one line for each.
"""

from __future__ import annotations

from wizard.view.compact import compact
from wizard.view.narrow import narrow
from wizard.view.roomy import roomy
from wizard.view.scene import Scene
from wizard.view.span import Line

NARROW, ROOMY = 60, 100
"""Below and from this many columns a drawing is narrow or may be roomy."""


def draw(scene: Scene, width: int, height: int | None = None) -> list[Line]:
    """The station in ``width`` columns and, where that can be, at most ``height`` lines."""
    if width >= ROOMY:
        lines = roomy(scene, width)
        if height is None or len(lines) <= height:
            return lines
    return compact(scene, width) if width >= NARROW else narrow(scene, width)
