"""The rows. One noun a file."""

from trips.models.camera import Camera
from trips.models.darkness import DarknessReading
from trips.models.edited import Edited
from trips.models.job import Job
from trips.models.night import Night
from trips.models.organisation import Membership, Organisation
from trips.models.season import Season
from trips.models.site import Hazard, Site
from trips.models.spot import Landmark, Spot
from trips.models.target_list import TargetEntry, TargetList
from trips.models.target_windows import TargetWindows
from trips.models.user import User

__all__ = [
    "Camera",
    "DarknessReading",
    "Edited",
    "Hazard",
    "Job",
    "Landmark",
    "Membership",
    "Night",
    "Organisation",
    "Season",
    "Site",
    "Spot",
    "TargetEntry",
    "TargetList",
    "TargetWindows",
    "User",
]
