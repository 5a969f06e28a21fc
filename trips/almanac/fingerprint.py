"""What a computed night depends on, as one short text: when it changes, the night is stale."""

from __future__ import annotations

import hashlib
import json

from sky import ENGINE_VERSION
from sky.clock import zone_data_version
from trips.models import Site

# The kernel that skyfield-data brings.
KERNEL = "de421"


def site_fingerprint(site: Site) -> str:
    """Digest position, elevation, zone, what is known of the sky, engine, kernel and zone rules as
    sha256 hex."""
    inputs = [
        float(site.latitude),
        float(site.longitude),
        float(site.elevation_m),
        site.zone,
        site.sky_brightness,
        site.sky_by_azimuth,
        float(site.extinction),
        float(site.usable_loss_mag),
        ENGINE_VERSION,
        KERNEL,
        zone_data_version(),
    ]
    return hashlib.sha256(json.dumps(inputs).encode()).hexdigest()
