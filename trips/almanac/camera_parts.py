"""What the answer about a camera rests on, figure by figure, each explained where it stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from sky.camera.exposure import STOPS_BELOW_GREY
from sky.camera.panorama import OVERLAP, PAUSE_SECONDS, Row
from sky.camera.practice import (
    SNOW_STOPS,
    USUAL_F_NUMBER,
    USUAL_ISO,
    equivalent_mm,
    is_near_usual,
    uses_of,
)
from sky.camera.sharpness import STRICT_PIXELS, USUAL_MM
from sky.camera.steps import SHUTTER_STEPS, longest_step
from sky.camera.subs import USUAL_DETECTOR
from sky.light.units import naked_eye_limit
from trips.almanac.camera import SUBS_ALTITUDE_DEGREES, SUBS_SIGNAL_TO_NOISE, Answer, Question
from trips.almanac.camera_words import (
    degrees_words,
    f_words,
    grouped,
    hands,
    metres_words,
    seconds_words,
)

USE_WORDS = {
    "all-sky": gettext_lazy("aurora, the whole Milky Way, fireballs"),
    "wide-field": gettext_lazy("the Milky Way over land, as the work-horse"),
    "constellations": gettext_lazy(
        "constellations, detail of the Milky Way, single meteors, panoramas"
    ),
    "large-nebulae": gettext_lazy("large nebulae and the nearest large galaxy"),
    "small-galaxies": gettext_lazy("galaxies, small nebulae, clusters"),
}
# Common practice: more nobody turns by hand in a night.
MOST_FRAMES = 60
MOST_ROWS = 4


@dataclass(frozen=True, slots=True)
class Part:
    """What one figure is, what it means, and what it takes for granted."""

    name: str
    heading: str
    figure: str
    lines: tuple[str, ...]
    notes: tuple[str, ...] = ()


def parts(asked: Question, found: Answer) -> tuple[Part, ...]:
    return (
        _time(asked, found),
        _light(asked, found),
        _view(asked, found),
        _focus(asked, found),
        _land(asked),
        _stack(asked, found),
        _panorama(asked, found),
    )


def _time(asked: Question, found: Answer) -> Part:
    exposure = found.exposure
    rules = _(
        "The reciprocal rules know neither pixels nor where you point: 500 / f gives %(rule_500)s, "
        "300 / f %(rule_300)s (common practice, no published source)."
    ) % {
        "rule_500": seconds_words(exposure.rule_500),
        "rule_300": seconds_words(exposure.rule_300),
    }
    figure = _("%(centre)s in the middle, %(corner)s where stars are fastest") % {
        "centre": seconds_words(exposure.drift_limit),
        "corner": seconds_words(exposure.drift_limit_corner),
    }
    if asked.tracker:
        figure = _("%(limit)s on this tracker") % {"limit": seconds_words(found.limit_seconds)}
    lines = _followed(found) if asked.tracker else _drift(asked, found)
    return Part("time", _("How long stars stay points"), figure, tuple(lines), (rules,))


def _drift(asked: Question, found: Answer) -> Iterator[str]:
    words = _(
        "The sky turns and the camera stands: by then a star has crossed %(px)g pixels. "
        "%(suggested)s is the longest step of a shutter within the middle’s limit; for points "
        "up to the corners set %(corner)s."
    )
    yield words % {
        "px": asked.trail_px,
        "suggested": seconds_words(found.exposure.suggested),
        "corner": seconds_words(longest_step(found.exposure.drift_limit_corner)),
    }


def _followed(found: Answer) -> Iterator[str]:
    yield _(
        "The worse of its two errors counts: what it strays by itself, and what a missed pole "
        "adds. Two minutes are the most that is suggested: a gust or a lamp then spoils no more."
    )
    if found.exposure.seconds > SHUTTER_STEPS[-1]:
        yield _("Longer than 30 s needs a release that holds the shutter open.")


def _light(asked: Question, found: Answer) -> Part:
    iso = found.exposure.iso
    figure = _("ISO %(step)s, exactly %(exact)s") % {
        "exact": grouped(iso.exact),
        "step": grouped(iso.step),
    }
    below = _(
        "The sky then comes out %(stops)g stops below the middle grey that a meter aims at: dark, "
        "with what is faint still in it. A stop is twice the light."
    ) % {"stops": STOPS_BELOW_GREY}
    words = _("%(sky).1f mag/arcsec² is a sky in which an eye sees stars to magnitude %(eye).1f.")
    if round(found.sky_mag, 1) < round(asked.dark_mag, 1):
        words = _(
            "The Moon makes %(sky).1f mag/arcsec² of %(dark).1f: an eye then sees stars to "
            "magnitude %(eye).1f."
        )
    eye = words % {
        "sky": found.sky_mag,
        "dark": asked.dark_mag,
        "eye": float(naked_eye_limit(found.sky_mag)),
    }
    note = _(
        "Skies of one kind differ by half a magnitude, which is two thirds of a stop: look at the "
        "histogram of a test frame."
    )
    notes = (*_usual_isos(asked), note)
    return Part("light", _("How much light it wants"), figure, (below, eye), notes)


def _usual_isos(asked: Question) -> Iterator[str]:
    """Say what people use near f/2.8 on a tripod without the Moon, and that it is no finer."""
    if asked.moon != "none" or asked.tracker or not is_near_usual(asked.f_number):
        return
    words = _(
        "Near %(f)s people use ISO %(town)s in a town, %(country)s away from it, %(dark)s where it "
        "is dark and without snow (common practice, no published source); ⅓ stop to either side "
        "is as good."
    )
    town, country, dark = (
        _("%(low)s to %(high)s") % {"low": grouped(low), "high": grouped(high)}
        for low, high in (USUAL_ISO["town"], USUAL_ISO["country"], USUAL_ISO["dark"])
    )
    said = {"f": f_words(USUAL_F_NUMBER), "town": town, "country": country, "dark": dark}
    yield words % said


def _view(asked: Question, found: Answer) -> Part:
    seen = found.fields
    figure = _("%(across)s across, %(down)s down") % {
        "across": degrees_words(seen.horizontal),
        "down": degrees_words(seen.vertical),
    }
    if seen.is_circle:
        circle = {"across": degrees_words(seen.diagonal)}
        figure = _("a circle of %(across)s with black corners") % circle
    held = _(
        "At arm’s length: %(across)s across, %(down)s down. A fist is 10°, a finger 2°, the Moon "
        "½° (common practice)."
    ) % {"across": hands(seen.horizontal), "down": hands(seen.vertical)}
    lines = (held, *_uses(asked))
    return Part("view", _("What the lens sees"), figure, lines, (_scale(asked, found),))


def _uses(asked: Question) -> Iterator[str]:
    uses = [str(USE_WORDS[use]) for use in uses_of(asked.lens, asked.sensor)]
    if uses:
        yield _("Mostly used for %(uses)s (common practice).") % {"uses": "; ".join(uses)}


def _scale(asked: Question, found: Answer) -> str:
    words = _(
        "Corner to corner %(diagonal)s; a pixel covers %(scale).1f arcseconds; it sees as much as "
        "%(mm).0f mm on full frame."
    )
    return words % {
        "diagonal": degrees_words(found.fields.diagonal),
        "scale": found.arcseconds_per_pixel,
        "mm": equivalent_mm(asked.lens, asked.sensor),
    }


def _focus(asked: Question, found: Answer) -> Part:
    strict, usual = (
        metres_words(metres) for metres in (found.hyperfocal.strict_m, found.hyperfocal.usual_m)
    )
    lines = (
        _("Focus on a bright star, enlarged on the screen: what is beyond %(far)s is sharp too.")
        % {"far": strict},
        _("Focused at that distance instead, sharpness begins at half of it, and stars are only "
          "just points."),
    )  # fmt: skip
    note = _(
        "The hyperfocal distance at %(f)s, where a point may be drawn %(px)g pixels wide. By the "
        "older habit of %(mm)g mm it is %(usual)s (both common practice)."
    ) % {"f": f_words(asked.f_number), "px": STRICT_PIXELS, "mm": USUAL_MM, "usual": usual}
    figure = _("beyond %(far)s") % {"far": strict}
    return Part("focus", _("Sharp from where on"), figure, lines, (note,))


def _land(asked: Question) -> Part:
    figure = _("a frame of its own, in twilight")
    if asked.moon in ("half", "full"):
        figure = _("by moonlight, in the same frame or its own")
    lines = [
        _(
            "Take it in late twilight, the Sun 6° to 12° under the horizon, leave the tripod where "
            "it is, and take the stars later. No rule with a source says how long: try and look."
        ),
        _(
            "Lamps blind people and animals: ask first, keep them red and low, and off where they "
            "are not allowed."
        ),
    ]
    if asked.has_snow:
        words = _(
            "Snow gives so much light back that the land needs %(low)g to %(high)g stops less "
            "(common practice)."
        )
        lines.insert(0, words % {"low": SNOW_STOPS[0], "high": SNOW_STOPS[1]})
    return Part("land", _("The land in front"), figure, tuple(lines))


def _stack(asked: Question, found: Answer) -> Part:
    plan = found.subs
    figure = ngettext(
        "%(count)s frame of %(seconds)s", "%(count)s frames of %(seconds)s, %(total)s in all",
        plan.number,
    ) % {
        "count": grouped(plan.number),
        "seconds": seconds_words(plan.seconds),
        "total": seconds_words(plan.total_seconds),
    }  # fmt: skip
    lines = (
        _("Laid over each other and averaged, these sub-exposures lift a glow of %(mag)g "
          "mag/arcsec² to %(times)g times the grain of a pixel, which an eye is sure of.")
        % {"mag": asked.faint_mag, "times": SUBS_SIGNAL_TO_NOISE},
        _("From %(drowned)s a frame on, reading it out adds hardly any grain; shorter frames want "
          "more time in all.") % {"drowned": seconds_words(plan.drowned_seconds)},
    )  # fmt: skip
    note = _(
        "Counts photons of green light, the glow %(altitude).0f° up; assumes that the lens lets "
        "%(kept).0f %% through, the sensor counts %(seen).0f %% of it and reads out with "
        "%(read)g electrons. Real pictures want more: read it as the least."
    ) % {
        "altitude": SUBS_ALTITUDE_DEGREES,
        "kept": USUAL_DETECTOR.transmission * 100,
        "seen": USUAL_DETECTOR.quantum_efficiency * 100,
        "read": USUAL_DETECTOR.read_noise,
    }
    return Part("stack", _("Something faint, from many frames"), figure, lines, (note,))


def _panorama(asked: Question, found: Answer) -> Part:
    plan = found.panorama
    figure = _("%(frames)s in %(rows)s") % {
        "frames": ngettext("%(n)d frame", "%(n)d frames", plan.frames) % {"n": plan.frames},
        "rows": ngettext("%(n)d row", "%(n)d rows", len(plan.rows)) % {"n": len(plan.rows)},
    }
    wanted = _("For %(wide)g° to the side and %(high)g° up from level, camera upright: %(rows)s.")
    turned = _("It takes %(time)s, and the sky turns by %(turned)s meanwhile: begin with the sky.")
    lines = (
        wanted
        % {
            "wide": asked.wide_degrees,
            "high": asked.high_degrees,
            "rows": _rows(plan.rows, plan.frames),
        },
        turned
        % {
            "time": seconds_words(plan.seconds),
            "turned": degrees_words(plan.sky_turn_degrees),
        },
    )
    note = _(
        "Neighbours share %(overlap).0f %% of a frame, and %(pause).0f s go by between two "
        "(common practice)."
    ) % {"overlap": OVERLAP * 100, "pause": PAUSE_SECONDS}
    return Part("panorama", _("A picture wider than the lens"), figure, lines, (note,))


def _rows(rows: tuple[Row, ...], frames: int) -> str:
    if frames > MOST_FRAMES:
        return _("more than anybody turns by hand, so take a shorter lens or a smaller picture")
    told = [_row(row) for row in rows[:MOST_ROWS]]
    if len(rows) > MOST_ROWS:
        told.append(_("and so on"))
    return "; ".join(told)


def _row(row: Row) -> str:
    if row.frames == 1:
        return _("one frame tilted %(tilt).0f° up") % {"tilt": row.altitude_degrees}
    words = _("%(frames)d frames tilted %(tilt).0f° up, turned by %(turn)s from one to the next")
    return words % {
        "frames": row.frames,
        "tilt": row.altitude_degrees,
        "turn": degrees_words(row.turn_degrees),
    }
