"""What a computed night depends on, as one short text: when it changes, the night is stale."""

from __future__ import annotations

import hashlib
import json

from sky import ENGINE_VERSION
from sky.clock import zone_data_version
from trips.almanac.places import Positioned

# The kernel that skyfield-data brings.
KERNEL = "de421"


def site_fingerprint(site: Positioned) -> str:
    """Digest position, elevation, zone, engine, kernel and zone rules as sha256 hex."""
    inputs = [
        float(site.latitude),
        float(site.longitude),
        float(site.elevation_m),
        site.zone,
        ENGINE_VERSION,
        KERNEL,
        zone_data_version(),
    ]
    return hashlib.sha256(json.dumps(inputs).encode()).hexdigest()
