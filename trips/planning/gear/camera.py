"""A camera that somebody brings: its sensor, and how far its owner lifts the light."""

from __future__ import annotations

from dataclasses import dataclass

from sky.camera.practice import is_of_phone
from sky.camera.sensor import Sensor
from trips.planning.gear.piece import Piece, figure, weight_kg


@dataclass(frozen=True, slots=True, kw_only=True)
class Camera(Piece):
    """Errors: those of `Piece` and of sky's `Sensor`."""

    sensor_width_mm: float = figure(0.5, 120)
    sensor_height_mm: float = figure(0.5, 120)
    pixels_wide: int = figure(100, 100_000, whole=True)
    pixels_high: int = figure(100, 100_000, whole=True)
    top_iso: int = figure(100, 819_200, whole=True, default=6400)
    weight_kg: float | None = weight_kg()

    def __post_init__(self) -> None:
        Piece.__post_init__(self)
        _ = self.sensor

    @property
    def sensor(self) -> Sensor:
        return Sensor(
            self.sensor_width_mm, self.sensor_height_mm, self.pixels_wide, self.pixels_high
        )

    @property
    def is_phone(self) -> bool:
        return is_of_phone(self.sensor)
