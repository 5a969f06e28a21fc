"""Skyglow of a site from all towns within 300 km: at most 10 ms; and reading the table once in a
process: at most 20 ms.

python -m tests.benchmarks.skyglow [--tenth]
"""

from __future__ import annotations

from importlib.resources import files

from sky.light.skyglow import glow_at
from sky.light.towns import all_towns
from sky.place import Place
from tests.benchmarks.measuring import best_ms, hold, is_tenth

MOST_MS, MOST_READING_MS, MOST_BYTES = 10.0, 20.0, 1_500_000
# A hill, and where towns stand thickest.
PLACES = {"hill": Place(40.1, -1.03), "between cities": Place(52.0, 5.0), "lake": Place(69.1, 18.6)}


def main() -> None:
    times = 5 if is_tenth(__doc__) else 50
    spent = best_ms(all_towns.__wrapped__, times)
    print(f"{'reading the table':18} {spent:6.1f} ms, once in a process")
    hold(spent, MOST_READING_MS)
    for name, place in PLACES.items():
        spent = best_ms(lambda at=place: glow_at.__wrapped__(at), times)  # type: ignore[misc]
        print(f"{name:18} {spent:6.2f} ms for {len(glow_at(place).shares)} towns")
        hold(spent, MOST_MS)
    size = len((files("sky") / "data" / "towns.npz").read_bytes())
    print(f"{'table':18} {size / 1e6:6.2f} MB")
    assert size <= MOST_BYTES, f"{size} bytes are more than {MOST_BYTES}"


if __name__ == "__main__":
    main()
