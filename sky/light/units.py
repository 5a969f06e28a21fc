"""Sky brightness in its units: magnitudes per square arcsecond (V), nanolamberts, cd/m².

Magnitudes grow as the sky darkens. All functions take and give arrays of any shape.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

# Garstang R. H., PASP 98 (1986) 364, eq. 19.
GARSTANG_NANOLAMBERTS, GARSTANG_OFFSET, GARSTANG_SLOPE = 34.08, 20.7233, 0.92104


def nanolamberts(magnitude: Floats | float) -> Floats:
    """Turn mag/arcsec² into nanolamberts: 34.08 exp(20.7233 − 0.92104 V), Garstang 1986."""
    result: Floats = GARSTANG_NANOLAMBERTS * np.exp(
        GARSTANG_OFFSET - GARSTANG_SLOPE * np.asarray(magnitude, dtype=np.float64)
    )
    return result


def magnitude(nanolamberts: Floats | float) -> Floats:
    """Turn nanolamberts (above 0) into mag/arcsec²: the same relation backwards."""
    result: Floats = (
        GARSTANG_OFFSET - np.log(np.asarray(nanolamberts) / GARSTANG_NANOLAMBERTS)
    ) / GARSTANG_SLOPE
    return result


def luminance(magnitude: Floats | float) -> Floats:
    """Turn mag/arcsec² into cd/m²: 10.8·10⁴ · 10^(−0.4 m).

    A conversion in public use, no published source; 0.005 mag off Garstang's.
    """
    result: Floats = 10.8e4 * 10 ** (-0.4 * np.asarray(magnitude, dtype=np.float64))
    return result


def naked_eye_limit(magnitude: Floats | float) -> Floats:
    """Give the faintest star that an eye sees against a sky: 7.93 − 5 log(10^(4.316 − m/5) + 1).

    After Schaefer B. E., PASP 102 (1990) 212, in the form that public converters use; the paper
    itself from memory. Eyes differ by half a magnitude.
    """
    faint = 10 ** (4.316 - np.asarray(magnitude, dtype=np.float64) / 5)
    result: Floats = 7.93 - 5 * np.log10(faint + 1)
    return result
