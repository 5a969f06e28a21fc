"""The rows. One noun a file."""

from trips.models.brief import Brief, BriefNote, BriefPicture, CalendarLink, PersonalPlan
from trips.models.camera import Camera
from trips.models.car import Car, Drive
from trips.models.darkness import DarknessReading
from trips.models.edited import Edited, Versioned
from trips.models.enrolment import Enrolment
from trips.models.gear import Loan, LoanItem, OwnGear
from trips.models.head_count import Tick
from trips.models.job import Job
from trips.models.letter import Letter
from trips.models.linked import Linked
from trips.models.night import Night
from trips.models.organisation import Membership, Organisation
from trips.models.person import Person
from trips.models.rota import Rota, Turn
from trips.models.season import Season
from trips.models.site import Hazard, Site
from trips.models.site_month import SiteMonth
from trips.models.spot import Landmark, Spot
from trips.models.target_list import TargetEntry, TargetList
from trips.models.target_windows import TargetWindows
from trips.models.trip import Trip
from trips.models.trip_event import TripEvent
from trips.models.trip_instructor import TripInstructor
from trips.models.trip_night import TideTime, TripNight
from trips.models.user import User

__all__ = [
    "Brief",
    "BriefNote",
    "BriefPicture",
    "CalendarLink",
    "Camera",
    "Car",
    "DarknessReading",
    "Drive",
    "Edited",
    "Enrolment",
    "Hazard",
    "Job",
    "Landmark",
    "Letter",
    "Linked",
    "Loan",
    "LoanItem",
    "Membership",
    "Night",
    "Organisation",
    "OwnGear",
    "Person",
    "PersonalPlan",
    "Rota",
    "Season",
    "Site",
    "SiteMonth",
    "Spot",
    "TargetEntry",
    "TargetList",
    "TargetWindows",
    "Tick",
    "TideTime",
    "Trip",
    "TripEvent",
    "TripInstructor",
    "TripNight",
    "Turn",
    "User",
    "Versioned",
]
