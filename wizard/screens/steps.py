"""The screen of each step."""

from __future__ import annotations

from wizard.screens.base import StepScreen
from wizard.screens.equipment import Equipment
from wizard.screens.form import (
    BatteryForm,
    Leads,
    SiteForm,
    SunForm,
    SupplyForm,
    Use,
    VehicleForm,
    WishesForm,
)
from wizard.screens.result import Result

SCREENS: dict[str, type[StepScreen]] = {
    "use": Use,
    "loads": Equipment,
    "supply": SupplyForm,
    "vehicle": VehicleForm,
    "battery": BatteryForm,
    "sun": SunForm,
    "leads": Leads,
    "site": SiteForm,
    "wishes": WishesForm,
    "result": Result,
}
