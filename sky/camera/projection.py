"""How a lens lays angles from its axis down as millimetres on the sensor.

θ is the angle from the axis, f the focal length, r the distance from the picture's centre. Every
projection has r = f·θ close to the axis and goes its own way further out.

Source: r(θ) of the textbooks, rectilinear f tan θ, equidistant f θ, equisolid 2f sin(θ/2),
stereographic 2f tan(θ/2), orthographic f sin θ; the scales are their derivatives.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sky.constants import DEGREE
from sky.errors import SkyError

Floats = NDArray[np.float64]
Projection = Literal["rectilinear", "equidistant", "equisolid", "stereographic", "orthographic"]
PROJECTIONS: tuple[Projection, ...] = get_args(Projection)


@dataclass(frozen=True, slots=True)
class _Form:
    """A projection for f = 1, in radians.

    `widest` is the angle at which it ends, `circle` its radius there: infinite where that angle
    has no place.
    """

    radius: Callable[[Floats], Floats]
    angle: Callable[[Floats], Floats]
    radial: Callable[[Floats], Floats]
    tangential: Callable[[Floats], Floats]
    widest: float
    circle: float


FORMS: dict[Projection, _Form] = {
    "rectilinear": _Form(
        radius=np.tan,
        angle=np.arctan,
        radial=lambda theta: 1 / np.cos(theta) ** 2,
        tangential=lambda theta: 1 / np.cos(theta),
        widest=np.pi / 2,
        circle=np.inf,
    ),
    "equidistant": _Form(
        radius=lambda theta: theta,
        angle=lambda radius: radius,
        radial=np.ones_like,
        tangential=lambda theta: 1 / np.sinc(theta / np.pi),
        widest=np.pi,
        circle=np.pi,
    ),
    "equisolid": _Form(
        radius=lambda theta: 2 * np.sin(theta / 2),
        angle=lambda radius: 2 * np.arcsin(radius / 2),
        radial=lambda theta: np.cos(theta / 2),
        tangential=lambda theta: 1 / np.cos(theta / 2),
        widest=np.pi,
        circle=2.0,
    ),
    "stereographic": _Form(
        radius=lambda theta: 2 * np.tan(theta / 2),
        angle=lambda radius: 2 * np.arctan(radius / 2),
        radial=lambda theta: 1 / np.cos(theta / 2) ** 2,
        tangential=lambda theta: 1 / np.cos(theta / 2) ** 2,
        widest=np.pi,
        circle=np.inf,
    ),
    "orthographic": _Form(
        radius=np.sin,
        angle=np.arcsin,
        radial=np.cos,
        tangential=np.ones_like,
        widest=np.pi / 2,
        circle=1.0,
    ),
}


def radius_mm(theta_degrees: ArrayLike, focal_mm: float, projection: Projection) -> Floats:
    """Give how far from the centre an angle from the axis is drawn, in mm; NaN where it is not."""
    form = form_of(projection)
    return focal_mm * form.radius(_within(form, theta_degrees))


def angle_degrees(radius_mm: ArrayLike, focal_mm: float, projection: Projection) -> Floats:
    """Give the angle from the axis that is drawn so far from the centre.

    Degrees; NaN outside the circle at which the projection ends: orthographic f, equisolid 2f,
    equidistant πf.
    """
    form = form_of(projection)
    radius = np.asarray(radius_mm, dtype=np.float64) / focal_mm
    return form.angle(np.where(np.abs(radius) <= form.circle, radius, np.nan)) / DEGREE


def scales(
    theta_degrees: ArrayLike, focal_mm: float, projection: Projection
) -> tuple[Floats, Floats]:
    """Give the mm on the sensor for a radian on the sky, away from the axis and around it.

    NaN where the projection has no place. Where both are equal, small shapes are kept.
    """
    form = form_of(projection)
    theta = _within(form, theta_degrees)
    mm = np.where(np.isnan(theta), np.nan, focal_mm)
    return mm * form.radial(theta), mm * form.tangential(theta)


def widest_degrees(projection: Projection) -> float:
    """Give the angle from the axis at which a projection ends."""
    return form_of(projection).widest / DEGREE


def form_of(projection: str) -> _Form:
    """Errors: `projection_unknown`."""
    for name, form in FORMS.items():
        if name == projection:
            return form
    raise SkyError("projection_unknown", projection=projection, known=PROJECTIONS)


def _within(form: _Form, theta_degrees: ArrayLike) -> Floats:
    """Give radians, NaN where the projection has ended."""
    theta = np.asarray(theta_degrees, dtype=np.float64) * DEGREE
    drawn = np.less if form.circle == np.inf else np.less_equal
    inside = drawn(np.abs(theta), form.widest)
    return np.where(inside, theta, np.nan)
