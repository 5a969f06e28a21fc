"""Ten cases that a practitioner can nod at, or not: what is advised, and what people do.

python -m tests.benchmarks.ten_cases

A camera of 36 × 24 mm and 24 megapixels looks 45° up in the south, at declination −20°; up to
135 mm it stands on a tripod. Sky in mag/arcsec² toward there, loss what the Moon takes of it.

What people do is common practice, no published source; where nobody has said it, as under the Moon,
nothing is compared. Ends with an error where a case is further from practice than the third of a
stop that practice itself leaves.
"""

from __future__ import annotations

import math
import sys
from dataclasses import dataclass

import numpy as np

from sky.camera.drift import longest_exposure
from sky.camera.exposure import Exposure, exposure_of
from sky.camera.lens import Lens
from sky.camera.practice import USUAL_F_NUMBER, USUAL_ISO, Surroundings, wants_tracker
from sky.camera.sensor import COMMON_SENSORS
from sky.light.brightness import Bodies, LocalSky, SkyLight, sky_toward

SENSOR = COMMON_SENSORS["full-frame"]
ALTITUDE, AZIMUTH, DECLINATION = 45.0, 180.0, -20.0
TRACKED_SECONDS, TOP_ISO = 120.0, 12_800
FREE_STOPS = 0.34

# The zenith as measured without the Moon, in mag/arcsec²; and whose habit goes with it.
PLACES: dict[str, tuple[float, Surroundings]] = {
    "city": (18.0, "town"),
    "village": (20.0, "country"),
    "dark site": (21.8, "dark"),
}
# Altitude, azimuth and phase angle in degrees: 15, 50 and 100 % lit.
MOONS = {
    "": (-30.0, 270.0, 90.0),
    "crescent 8° up": (8.0, 260.0, 134.4),
    "half Moon 45° up": (45.0, 270.0, 90.0),
    "full Moon 60° up": (60.0, 120.0, 0.0),
}


@dataclass(frozen=True)
class Case:
    place: str
    moon: str
    lens: Lens

    @property
    def light(self) -> SkyLight:
        altitude, azimuth, phase = (np.array([value]) for value in MOONS[self.moon])
        bodies = Bodies(np.array([-40.0]), np.array([0.0]), altitude, azimuth, phase)
        return sky_toward(LocalSky(zenith_mag=PLACES[self.place][0]), ALTITUDE, AZIMUTH, bodies)

    @property
    def exposure(self) -> Exposure:
        assert self.lens.widest_f_number is not None
        return exposure_of(
            self.lens,
            SENSOR,
            f_number=self.lens.widest_f_number,
            declination=DECLINATION,
            sky_mag=float(self.light.magnitude[0]),
            seconds=TRACKED_SECONDS if self.is_tracked else None,
            top_iso=TOP_ISO,
        )

    @property
    def is_tracked(self) -> bool:
        return self.lens.focal_mm >= 400

    @property
    def habit(self) -> tuple[int, int] | None:
        """Give the ISO that people use there near f/2.8, on a tripod, without the Moon."""
        is_said = not self.moon and not wants_tracker(self.lens, SENSOR)
        return USUAL_ISO[PLACES[self.place][1]] if is_said else None

    @property
    def stops_off(self) -> float:
        """Give how far the ISO, as it would be at f/2.8, lies outside of what people use."""
        low, high = self.habit or (0, math.inf)
        assert self.lens.widest_f_number is not None
        iso = self.exposure.iso.step * (USUAL_F_NUMBER / self.lens.widest_f_number) ** 2
        return math.log2(iso / min(max(iso, low), high))


CASES = (
    Case("city", "", Lens(24.0, 2.8)),
    Case("city", "full Moon 60° up", Lens(24.0, 2.8)),
    Case("village", "", Lens(24.0, 2.8)),
    Case("village", "half Moon 45° up", Lens(24.0, 2.8)),
    Case("dark site", "", Lens(24.0, 2.8)),
    Case("dark site", "crescent 8° up", Lens(14.0, 2.8)),
    Case("dark site", "full Moon 60° up", Lens(24.0, 2.8)),
    Case("dark site", "", Lens(50.0, 1.8)),
    Case("dark site", "", Lens(135.0, 2.0)),
    Case("dark site", "", Lens(400.0, 5.6)),
)


def line(case: Case) -> str:
    light, exposure = case.light, case.exposure
    lens = f"{case.lens.focal_mm:g} mm f/{case.lens.widest_f_number:g}"
    cells = (
        f"{case.place:9}  {case.moon or 'no Moon':16}",
        f"{light.magnitude[0]:5.2f} {light.loss_mag[0]:5.2f}",
        f"{lens:13} {exposure.seconds:4g} s  ISO {exposure.iso.step:6d}",
        f"{exposure.trail_px:4.1f} px" if not case.is_tracked else "tracked",
        _beside(case),
    )
    return "  ".join(cells)


def _beside(case: Case) -> str:
    if case.habit is None:
        limit = longest_exposure(case.lens, SENSOR, DECLINATION)
        is_long = wants_tracker(case.lens, SENSOR)
        return f"past 70 mm a tracker; without one {limit:.1f} s" if is_long else "no habit known"
    low, high = case.habit
    off = case.stops_off
    where = "inside" if off == 0 else f"{abs(off):.1f} stops {'above' if off > 0 else 'below'}"
    return f"ISO {low}–{high} at f/2.8: {where}"


if __name__ == "__main__":
    print("place      Moon              sky   loss  lens             time       ISO    trail")
    for one in CASES:
        print(line(one))
    sys.exit(any(abs(one.stops_off) > FREE_STOPS for one in CASES))
