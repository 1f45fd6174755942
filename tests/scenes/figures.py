"""Which picture is made by which scene; the scenes are imported only when they are drawn."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from typing import cast

from .scene import Scene

LIBRARY = Path(__file__).parents[2] / "procedures"
ANCHORS = Path(__file__).parent / "anchors.json"
FIGURES = {
    "lift/pictures/lift.svg": "lift.whole",
    "lift/pictures/lift-held.png": "lift.locked",
    "lift/pictures/charge-path.svg": "lift_inside.charge_path",
    "lift/pictures/pad-section.svg": "lift_inside.pad_cut",
    "lift/pictures/lift-base.svg": "lift_inside.open_base",
    "lift/pictures/lead-parts.svg": "lift_inside.lead_parts",
    "stretcher/pictures/stretcher.svg": "stretcher.whole",
    "stretcher/pictures/stretcher-held.png": "stretcher.locked",
    "stretcher/pictures/rail-switch.svg": "stretcher_rail.set_right",
    "stretcher/pictures/rail-found.svg": "stretcher_rail.as_found",
    "stretcher/pictures/rail-left.svg": "stretcher_rail.as_left",
    "stretcher/pictures/rail-parts.svg": "stretcher_rail.apart",
    "stretcher/pictures/column-foot.svg": "column.foot",
    "stretcher/pictures/hose-fitting.svg": "column.fitting_cut",
    "warming-cabinet/pictures/cabinet.svg": "cabinet.whole",
    "warming-cabinet/pictures/door-switch.svg": "cabinet.head_open",
    "warming-cabinet/pictures/switch-section.svg": "cabinet.switch_cut",
    "warming-cabinet/pictures/heat-limit.svg": "cabinet.element",
    "warming-cabinet/pictures/limit-parts.svg": "cabinet.limit_apart",
}
"""Line drawings; one that shows a part again in a corner is kept in pixels."""
PHOTOS = {
    "lift/pictures/pads-found.jpg": "photos.pads_found",
    "lift/pictures/pads-left.jpg": "photos.pads_left",
    "lift/pictures/lead-chafed.jpg": "photos.chafed",
}
"""Illustrations with light and shade, where an author would have a photograph."""


def scene_of(name: str) -> Scene:
    """Build the scene `module.function`."""
    module, function = name.split(".")
    return cast(Scene, getattr(import_module(f"{__package__}.{module}"), function)())
