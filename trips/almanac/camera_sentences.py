"""What sky refuses of cameras, lenses and plans, as sentences by code; `wording` fills them."""

from __future__ import annotations

from django.utils.translation import gettext_lazy

CAMERA_FIELDS = {
    "focal_length": gettext_lazy("focal length"),
    "f_number": gettext_lazy("f-number"),
    "sensor_size": gettext_lazy("size of the sensor"),
    "sensor_pixels": gettext_lazy("number of pixels"),
    "pixel_size": gettext_lazy("size of a pixel"),
    "declination": gettext_lazy("declination"),
    "trail": gettext_lazy("length of a trail"),
    "exposure_time": gettext_lazy("exposure time"),
    "sky_magnitude": gettext_lazy("sky brightness"),
    "target_magnitude": gettext_lazy("brightness of the target"),
    "stops_below": gettext_lazy("number of stops"),
    "iso": gettext_lazy("ISO"),
    "signal_to_noise": gettext_lazy("signal-to-noise ratio"),
    "efficiency": gettext_lazy("share of light"),
    "read_noise": gettext_lazy("read noise"),
    "extinction": gettext_lazy("extinction"),
    "overlap": gettext_lazy("overlap"),
    "wanted_field": gettext_lazy("field"),
    "pause": gettext_lazy("pause"),
    "altitude": gettext_lazy("altitude"),
    "height": gettext_lazy("altitude"),
    "polar_error": gettext_lazy("error of the axis"),
    "tracking_error": gettext_lazy("error of the tracker"),
}

CAMERA_SENTENCES = {
    "focal_length_outside": gettext_lazy(
        "No lens has a focal length of %(value)s mm: write the number written on it, more than"
        " %(low)s, such as 24."
    ),
    "f_number_outside": gettext_lazy(
        "No lens has f/%(value)s: write the number after f/ or 1:, from %(low)s to %(high)s, such"
        " as 2.8."
    ),
    "projection_unknown": gettext_lazy(
        "“%(projection)s” is no projection: rectilinear is, and for a fisheye equidistant,"
        " equisolid, stereographic and orthographic."
    ),
    "sensor_size_outside": gettext_lazy(
        "No sensor has a side of %(value)s mm: write more than 0 and at most %(high)s, such as 36."
    ),
    "sensor_pixels_outside": gettext_lazy(
        "No sensor has a side of %(value)s pixels: write from %(low)s to %(high)s, such as 6000."
    ),
    "sensor_not_square": gettext_lazy(
        "These pixels would be %(across_um).1f µm wide and %(down_um).1f µm high, and pixels are"
        " square: width and height may be swapped."
    ),
    "pixel_size_outside": gettext_lazy(
        "No pixel is %(value)s µm wide: write more than 0 and at most %(high)s, such as 4.3."
    ),
    "outside_picture": gettext_lazy(
        "At %(radius_mm).1f mm from its middle this %(projection)s fisheye has no picture any more."
    ),
    "trail_outside": gettext_lazy(
        "Stars cannot be allowed to trail by %(value)s pixels: write more than 0 and at most"
        " %(high)s; 5 is usual, 2 strict."
    ),
    "exposure_time_outside": gettext_lazy(
        "An exposure of %(value)s s cannot be: write more than 0 and at most %(high)s, such as 20."
    ),
    "target_magnitude_outside": gettext_lazy(
        "A target of %(value)s mag/arcsec² is outside %(low)s to %(high)s; a faint nebula has"
        " about 23."
    ),
    "stops_below_outside": gettext_lazy(
        "A sky %(value)s stops below mid-grey is outside %(low)s to %(high)s; 1.5 is usual."
    ),
    "iso_outside": gettext_lazy(
        "ISO %(value)s cannot be: write a number that the camera offers, such as 3200."
    ),
    "signal_to_noise_outside": gettext_lazy(
        "A signal-to-noise ratio of %(value)s cannot be planned: write more than 0 and at most"
        " %(high)s, such as 10."
    ),
    "efficiency_outside": gettext_lazy(
        "A share of light of %(value)s cannot be: write more than 0 and at most 1, such as 0.5."
    ),
    "read_noise_outside": gettext_lazy(
        "A read noise of %(value)s electrons is outside %(low)s to %(high)s; 3 is usual."
    ),
    "overlap_outside": gettext_lazy(
        "Frames cannot overlap by %(value)s of their width: write from %(low)s to %(high)s, such"
        " as 0.3."
    ),
    "wanted_field_outside": gettext_lazy(
        "A field of %(value)s° cannot be wanted: write more than 0 and at most %(high)s."
    ),
    "pause_outside": gettext_lazy(
        "A pause of %(value)s s between two frames is outside %(low)s to %(high)s."
    ),
    "panorama_upside_down": gettext_lazy(
        "A panorama from %(lowest)s° up to %(highest)s° has no height: write the lower one first."
    ),
    "polar_error_outside": gettext_lazy(
        "An axis %(value)s′ beside the pole is outside %(low)s to %(high)s′; a rough set-up is"
        " within 30′."
    ),
    "tracking_error_outside": gettext_lazy(
        "A tracker cannot stray by %(value)s″ a minute: write from %(low)s to %(high)s; one that"
        " stands still strays by 902."
    ),
}
