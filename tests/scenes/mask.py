"""Which part is seen at which pixel: a depth buffer, the outlines of what is seen, and a sure place to point at."""

from __future__ import annotations

import contourpy
import numpy as np
from scipy.ndimage import distance_transform_edt, gaussian_filter

from .camera import Paper, Rows
from .scene import Part, Point

FINE = 2
"""Pixels of the buffer to one of the picture."""


class Mask:
    """The picture as numbers: the part and the nearness at each pixel."""

    def __init__(self, paper: Paper, meshes: list[tuple[Rows, Rows]]):
        """Fill the buffer with the triangles of all parts."""
        self.paper = paper
        shape = (paper.height * FINE, paper.width * FINE)
        self.part = np.full(shape, -1, dtype=np.int16)
        self.near = np.full(shape, -np.inf)
        for index, (points, faces) in enumerate(meshes):
            flat = paper.put(points)
            flat[:, :2] *= FINE
            for corners in flat[faces]:
                self._fill(index, corners)

    def _fill(self, index: int, corners: Rows) -> None:
        """One triangle, by barycentric coordinates over its box."""
        height, width = self.part.shape
        left, top = np.maximum(np.floor(corners[:, :2].min(axis=0)).astype(int), 0)
        right, bottom = np.ceil(corners[:, :2].max(axis=0)).astype(int) + 1
        right, bottom = min(right, width), min(bottom, height)
        if left >= right or top >= bottom:
            return
        (x0, y0, z0), (x1, y1, z1), (x2, y2, z2) = corners
        area = (y1 - y2) * (x0 - x2) + (x2 - x1) * (y0 - y2)
        if abs(area) < 1e-9:
            return
        x, y = np.meshgrid(np.arange(left, right) + 0.5, np.arange(top, bottom) + 0.5)
        a = ((y1 - y2) * (x - x2) + (x2 - x1) * (y - y2)) / area
        b = ((y2 - y0) * (x - x2) + (x0 - x2) * (y - y2)) / area
        c = 1 - a - b
        near = a * z0 + b * z1 + c * z2
        view = self.near[top:bottom, left:right]
        hit = (a >= -1e-6) & (b >= -1e-6) & (c >= -1e-6) & (near > view)
        view[hit] = near[hit]
        self.part[top:bottom, left:right][hit] = index

    def seen(self, indices: list[int]) -> Rows:
        """Where any of the parts is the nearest."""
        return np.isin(self.part, indices)

    def outline(self, seen: Rows) -> list[Rows]:
        """The edges of an area as closed lines in picture pixels."""
        padded = gaussian_filter(np.pad(seen, 2).astype(float), 0.8)
        found = contourpy.contour_generator(z=padded).lines(0.5)
        return [(line - 2 + 0.5) / FINE for line in found if len(line) > 12]

    def place(self, name: str, parts: list[Part], wanted: Point | None) -> tuple[float, float]:
        """Where a number points: the wanted point if the part is seen there, else the middle of what is seen.

        Raises ValueError when the part is hidden, there or altogether.
        """
        seen = self.seen([i for i, p in enumerate(parts) if p.name == name])
        if wanted is not None:
            x, y = self.paper.put([wanted])[0][:2]
            row, column = int(y * FINE), int(x * FINE)
            inside = 0 <= row < seen.shape[0] and 0 <= column < seen.shape[1]
            if not inside or not seen[row, column]:
                raise ValueError(f"{name}: hidden at {wanted}, {x:.0f},{y:.0f}")
            return round(float(x)), round(float(y))
        depth = distance_transform_edt(np.pad(seen, 1))[1:-1, 1:-1]
        if depth.max() < 2:
            raise ValueError(f"{name}: not seen")
        row, column = np.unravel_index(int(depth.argmax()), depth.shape)
        return round(float(column) / FINE), round(float(row) / FINE)

    def free(self, points: Rows) -> Rows:
        """Which points of the scene no part hides."""
        flat = self.paper.put(points)
        rows = np.clip((flat[:, 1] * FINE).astype(int), 0, self.part.shape[0] - 1)
        columns = np.clip((flat[:, 0] * FINE).astype(int), 0, self.part.shape[1] - 1)
        return self.near[rows, columns] <= flat[:, 2] + 0.05
