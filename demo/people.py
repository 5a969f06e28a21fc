"""Six people who come along, with what they bring. All are invented, and so are their numbers."""

from __future__ import annotations

from dataclasses import dataclass

from trips.planning.gear import (
    Batteries,
    Camera,
    DewHeater,
    Lens,
    Piece,
    RedLight,
    Release,
    Support,
    Tracker,
)


@dataclass(frozen=True, slots=True)
class Guest:
    """`experience` and `units` as `Person` has them."""

    name: str
    mail: str
    experience: str
    gear: tuple[Piece, ...]
    units: str = "metric"
    wish: str = ""


GUESTS = (
    Guest(
        "Ilse Brandt",
        "ilse@example.org",
        "some",
        (
            Camera(
                name="The grey one",
                sensor_width_mm=36.0,
                sensor_height_mm=24.0,
                pixels_wide=6000,
                pixels_high=4000,
            ),
            Lens(focal_mm=24.0, widest_f_number=1.8),
            Lens(focal_mm=50.0, widest_f_number=1.8),
            Support(leg_mm=28.0, sections=3, centre_column="lowered", leg_lock="twist"),
            Batteries(number=3),
            RedLight(),
            Release(),
        ),
        wish="The core over the chimney.",
    ),
    Guest(
        "Bao Nguyen",
        "bao@example.org",
        "much",
        (
            Camera(
                name="With the filter out",
                sensor_width_mm=36.0,
                sensor_height_mm=24.0,
                pixels_wide=8256,
                pixels_high=5504,
                top_iso=12_800,
                weight_kg=0.7,
            ),
            Lens(focal_mm=14.0, widest_f_number=2.8),
            Lens(focal_mm=135.0, widest_f_number=2.0, weight_kg=0.9),
            Support(
                leg_mm=32.0,
                sections=3,
                centre_column="none",
                leg_lock="twist",
                has_level=True,
                turns=True,
            ),
            Tracker(payload_kg=3.0, stated_error_arcseconds_per_minute=5.0),
            Batteries(number=4),
            RedLight(),
            DewHeater(),
            Release(),
        ),
        wish="Rho Ophiuchi with the long lens.",
    ),
    Guest(
        "Noor Haddad",
        "noor@example.org",
        "some",
        (
            Camera(
                sensor_width_mm=23.5,
                sensor_height_mm=15.6,
                pixels_wide=6000,
                pixels_high=4000,
                top_iso=6400,
                weight_kg=0.5,
            ),
            Lens(focal_mm=16.0, widest_f_number=2.0),
            Lens(focal_mm=70.0, longest_mm=200.0, widest_f_number=2.8, weight_kg=1.4),
            Support(
                leg_mm=22.0, sections=5, centre_column="raised", leg_lock="flip", is_travel=True
            ),
            Batteries(number=1),
        ),
    ),
    Guest(
        "Héctor Vidal",
        "hector@example.org",
        "none",
        (
            Camera(
                name="Phone",
                sensor_width_mm=9.8,
                sensor_height_mm=7.3,
                pixels_wide=4080,
                pixels_high=3060,
                top_iso=3200,
            ),
            Lens(focal_mm=6.8, widest_f_number=1.8),
            Batteries(number=1),
        ),
        wish="A first picture of the Milky Way.",
    ),
    Guest(
        "Ruth Oyelaran",
        "ruth@example.org",
        "some",
        (
            Camera(
                sensor_width_mm=36.0,
                sensor_height_mm=24.0,
                pixels_wide=7008,
                pixels_high=4672,
                top_iso=12_800,
            ),
            Lens(focal_mm=20.0, widest_f_number=1.8),
            Lens(focal_mm=35.0, widest_f_number=1.4),
            Support(leg_mm=25.0, sections=4, centre_column="lowered", leg_lock="flip"),
            Batteries(number=2),
            RedLight(),
        ),
        units="imperial",
    ),
    Guest("Tomás Leiva", "tomas@example.org", "none", ()),
)

LOANS: tuple[Piece, ...] = (
    Tracker(name="Tracker 1", payload_kg=5.0, stated_error_arcseconds_per_minute=5.0),
    Support(
        name="Tripod with the blue ring",
        leg_mm=28.0,
        sections=3,
        centre_column="lowered",
        leg_lock="twist",
        has_level=True,
        turns=True,
    ),
    Lens(name="The club’s 20 mm", focal_mm=20.0, widest_f_number=1.8),
    DewHeater(name="Warm band"),
    RedLight(name="Spare red lamp"),
)
