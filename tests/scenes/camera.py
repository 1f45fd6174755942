"""Where a point of the scene lies on paper, and how near it is: a parallel projection."""

from __future__ import annotations

from math import cos, radians, sin
from typing import Any

import numpy as np

from .scene import Camera, Point

Rows = Any
"""An array of numpy, one point a row."""


def axes(camera: Camera) -> Rows:
    """Three rows: right and up on the paper, and toward the viewer."""
    a, b = radians(camera.yaw), radians(camera.pitch)
    near = np.array([sin(a) * cos(b), -cos(a) * cos(b), sin(b)])
    right = np.array([cos(a), sin(a), 0.0])
    return np.array([right, np.cross(near, right), near])


class Paper:
    """Millimetres of the scene to pixels of the picture."""

    def __init__(
        self, camera: Camera, points: Rows, width: int, tall: float, frame: tuple[Point, float] | None
    ):
        """Fit all points, or the frame, into the width with a small margin."""
        self.axes = axes(camera)
        flat = points @ self.axes.T
        low, high = flat[:, :2].min(axis=0), flat[:, :2].max(axis=0)
        if frame is not None:
            middle = self.axes[:2] @ np.array(frame[0])
            half = np.array([frame[1], frame[1] * tall]) / 2
            low, high = middle - half, middle + half
        edge = 0.0 if frame is not None else 26.0
        self.zoom = min((width - 2 * edge) / (high - low)[0], (width * tall - 2 * edge) / (high - low)[1])
        size = (high - low) * self.zoom + 2 * edge
        self.width, self.height = width, round(max(size[1], width * 0.4))
        self.middle = (low + high) / 2
        self.at = width / 2, self.height / 2

    def put(self, points: Rows) -> Rows:
        """Pixels from the upper left, and nearness in millimetres, of points of the scene."""
        flat = np.atleast_2d(np.asarray(points, dtype=float)) @ self.axes.T
        return np.column_stack([self.on_paper(flat[:, :2]), flat[:, 2]])

    def on_paper(self, flat: Rows) -> Rows:
        """Pixels of points that are projected already."""
        off = (flat - self.middle) * self.zoom
        return np.column_stack([self.at[0] + off[:, 0], self.at[1] - off[:, 1]])
