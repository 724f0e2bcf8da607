"""Every question, declared once: the screens, the line-by-line interview and the help all read it from here."""

from wizard.questions import battery, vehicle
from wizard.questions.battery import BATTERY, CHARGER, HOURS
from wizard.questions.lead import LEAD, LEAD_AS_IT_STANDS
from wizard.questions.load import LOAD
from wizard.questions.site import MAINS, PLACE, SITE
from wizard.questions.sun import SUN
from wizard.questions.supply import SUPPLY
from wizard.questions.vehicle import REGION, VEHICLE
from wizard.questions.wishes import OUTAGE, USE, WISHES

OF_VEHICLE = (*VEHICLE, *vehicle.LEAD_AS_IT_STANDS, REGION)
OF_BATTERY = (*BATTERY, CHARGER, HOURS, *SUN)
EVERY = (*USE, *LOAD, *LEAD_AS_IT_STANDS, *SUPPLY, *SITE, *WISHES, OUTAGE, *OF_VEHICLE, *OF_BATTERY)
"""Every question there is."""

__all__ = [
    "BATTERY",
    "CHARGER",
    "EVERY",
    "HOURS",
    "LEAD",
    "LEAD_AS_IT_STANDS",
    "LOAD",
    "MAINS",
    "OUTAGE",
    "PLACE",
    "REGION",
    "SITE",
    "SUN",
    "SUPPLY",
    "USE",
    "VEHICLE",
    "WISHES",
    "battery",
    "vehicle",
]
